import type { IssueList } from '../issue-list.js';
import { type SizeLimits, sizeLimits } from '../size-limits.js';
import type { ColumnKind } from '../table-form/column.js';
import { type DecimalMark, NumberReader } from '../table-form/number-reader.js';
import type { Table } from '../table-form/table.js';
import { type DecodedTable, type RowCells, TableDecoder } from '../table-form/table-decoder.js';
import type { Sheet, SheetCell } from './read-workbook.js';

/** Decodes one sheet; numbers typed as text obey the same rules as those of a CSV table. */
export function decodeSheet<R>(
  table: Table<R>,
  sheet: Sheet,
  file: string,
  decimalMark: DecimalMark | null,
  issues: IssueList,
  limits: SizeLimits = sizeLimits,
): DecodedTable<R> {
  const numbers = new NumberReader(file, decimalMark);
  const decoder = new TableDecoder(table, file, numbers, issues);
  const refuse = (row: number, found: string, expected: string) => {
    issues.add({ code: 'file form', file, row, column: null, found, expected });
    decoder.markBroken();
    return decoder.finish();
  };
  const [heading, ...rows] = sheet.rows;
  if (heading === undefined) return refuse(1, 'an empty sheet', 'a row of headings');
  if (sheet.rows.length > limits.rows)
    return refuse(limits.rows + 1, 'more rows', `at most ${limits.rows} rows`);
  const width = heading.length;
  if (width > limits.columns) return refuse(1, `${width} cells`, `at most ${limits.columns} cells`);
  if (!decoder.heading(heading.map((cell) => textOf(cell)))) return decoder.finish();
  rows.forEach((cells, i) => {
    decoder.row(new SheetRow(cells, i + 2, numbers), i + 2);
  });
  return decoder.finish();
}

class SheetRow implements RowCells {
  readonly #cells: readonly SheetCell[];
  readonly #row: number;
  readonly #numbers: NumberReader;

  constructor(cells: readonly SheetCell[], row: number, numbers: NumberReader) {
    this.#cells = cells;
    this.#row = row;
    this.#numbers = numbers;
  }

  get count(): number {
    return this.#cells.length;
  }

  isEmpty(index: number): boolean {
    const cell = this.#cells[index];
    return cell === null || cell === undefined || (typeof cell === 'string' && cell.trim() === '');
  }

  number(index: number, column: string): number {
    const cell = this.#cells[index];
    if (typeof cell === 'number') return cell + 0;
    return typeof cell === 'string' ? this.#numbers.read(cell.trim(), this.#row, column) : Number.NaN;
  }

  text(index: number, kind: ColumnKind = 'text'): string {
    return textOf(this.#cells[index] ?? null, kind);
  }
}

/** A date cell holds no zone and a rounding error of its day fraction: it is read to the second. */
function textOf(cell: SheetCell, kind: ColumnKind = 'text'): string {
  if (!(cell instanceof Date)) return cell === null ? '' : String(cell).trim();
  const moment = new Date(Math.round(cell.getTime() / 1000) * 1000).toISOString().slice(0, 19);
  return moment.endsWith('T00:00:00') && kind !== 'date and time' ? moment.slice(0, 10) : moment;
}
