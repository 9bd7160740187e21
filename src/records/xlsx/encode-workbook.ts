import type { EncodedTable } from '../table-form/encode-table.js';
import { zipEntries } from './zip-entries.js';

/**
 * Workbook with a sheet for each table: bold headings, numbers as numbers, texts as texts.
 * The same tables give the same bytes: the clock that an archive writes into its entries is set to a fixed day.
 */
export async function encodeWorkbook(tables: readonly EncodedTable[]): Promise<Uint8Array> {
  const { default: writeXlsxFile } = await import('write-excel-file/node');
  const sheets = tables.map(({ name, headings, rows }) => ({
    sheet: name,
    stickyRowsCount: 1,
    columns: headings.map((heading) => ({ width: Math.max(8, heading.length + 2) })),
    data: [
      headings.map((value) => ({ value, type: String, fontWeight: 'bold' as const })),
      ...rows.map((row) =>
        row.map((value) => {
          if (value === '') return null;
          return typeof value === 'number' ? { value, type: Number } : { value, type: String };
        }),
      ),
    ],
  }));
  const bytes = new Uint8Array(await writeXlsxFile(sheets).toBuffer());
  setClocks(bytes);
  return bytes;
}

/** 1980-01-01 00:00, the first moment the form can state. */
const [fixedTime, fixedDate] = [0, 0x21];

function setClocks(bytes: Uint8Array): void {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  for (const { localAt, centralAt } of zipEntries(bytes)) {
    view.setUint16(localAt + 10, fixedTime, true);
    view.setUint16(localAt + 12, fixedDate, true);
    view.setUint16(centralAt + 12, fixedTime, true);
    view.setUint16(centralAt + 14, fixedDate, true);
  }
}
