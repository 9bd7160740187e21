import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { sha256 } from '../checksum.js';
import { type IssueList, quoteFound } from '../issue-list.js';
import { type SizeLimits, sizeLimits } from '../size-limits.js';
import { fits, type StudyFolder, workbookFile } from '../study-folder.js';
import { withErrorsAsText } from './error-cells.js';
import { unpackedSize, ZipFault } from './zip-entries.js';

/** Content of one cell as the spreadsheet stores it; `null` for an empty one. */
export type SheetCell = string | number | boolean | Date | null;

/** One sheet. */
export interface Sheet {
  readonly name: string;
  readonly rows: readonly (readonly SheetCell[])[];
}

/** A workbook and the fingerprint of the bytes it was read from. */
export interface Workbook {
  readonly sheets: readonly Sheet[];
  readonly sha256: string;
}

/** Reads all sheets of the study's workbook; `null` where an issue says why not. */
export async function readWorkbook(
  folder: StudyFolder,
  issues: IssueList,
  limits: SizeLimits = sizeLimits,
): Promise<Workbook | null> {
  if (!(await fits(folder, workbookFile, limits.workbookBytes, issues))) return null;
  const bytes = await readFile(join(folder.path, workbookFile));
  return decodeWorkbook(bytes, issues, limits);
}

/** Decodes a workbook at hand as bytes. */
export async function decodeWorkbook(
  bytes: Uint8Array,
  issues: IssueList,
  limits: SizeLimits = sizeLimits,
): Promise<Workbook | null> {
  const refuse = (found: string, expected: string) =>
    issues.add({ code: 'file form', file: workbookFile, row: null, column: null, found, expected });
  const most = limits.workbookUnpackedBytes;
  try {
    unpackedSize(bytes, most);
    // The reader costs a tenth of a second to load: only a study with a workbook pays it.
    const { default: readXlsxFile } = await import('read-excel-file/node');
    const sheets = await readXlsxFile(Buffer.from(withErrorsAsText(bytes)));
    return {
      sheets: sheets.map(({ sheet, data }) => ({ name: sheet, rows: data.map((row) => row.map(cellOf)) })),
      sha256: sha256(bytes),
    };
  } catch (error) {
    if (error instanceof ZipFault)
      refuse(error.message, `an XLSX workbook of at most ${most} bytes unpacked`);
    else refuse(quoteFound(error instanceof Error ? error.message : String(error)), 'an XLSX workbook');
    return null;
  }
}

function cellOf(cell: unknown): SheetCell {
  if (cell === null || cell === undefined) return null;
  if (typeof cell === 'number' || typeof cell === 'boolean' || cell instanceof Date) return cell;
  return String(cell);
}
