import { guardFormula } from '../records/formula-guard.js';
import { encodeWorkbook } from '../records/xlsx/encode-workbook.js';
import type { Table } from './document.js';

/**
 * Tables of a report as a workbook, a sheet each: numbers whole, texts guarded against being run as formulas.
 *
 * @param sheets name of each sheet and its table
 */
export function resultsWorkbook(
  sheets: readonly { readonly name: string; readonly table: Table }[],
): Promise<Uint8Array> {
  return encodeWorkbook(
    sheets.map(({ name, table }) => ({
      name,
      headings: table.columns.map(({ heading, unit }) =>
        guardFormula(unit === '' ? heading : `${heading} ${unit}`),
      ),
      rows: table.rows.map((row) =>
        row.map((cell) => {
          if (cell.kind === 'number') return cell.value;
          if (cell.kind === 'text') return guardFormula(cell.text);
          return cell.kind === 'verdict' ? cell.verdict : '';
        }),
      ),
    })),
  );
}
