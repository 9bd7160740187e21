import { type IssueList, quoteFound } from '../issue-list.js';
import { headingOf, type Table } from '../table-form/table.js';
import type { DecodedTable } from '../table-form/table-decoder.js';

/** What is wrong with one cell. */
export interface CellProblem<R> {
  readonly code: string;
  readonly field: keyof R & string;
  readonly expected: string;
  /** What was found, where the cell's own content does not say it. */
  readonly found?: string;
}

/** Adds the problem of the record at `index` of a table. */
export function addCellProblem<R>(
  table: Table<R>,
  { file, records, rows }: DecodedTable<R>,
  index: number,
  { code, field, expected, found }: CellProblem<R>,
  issues: IssueList,
): void {
  const value = records[index]![field];
  issues.add({
    code,
    file,
    row: rows[index]!,
    column: headingOf(table, field),
    found: found ?? quoteFound(typeof value === 'number' ? value : String(value)),
    expected,
  });
}
