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

/**
 * Problems of one table's rows. Rows that share field, content and expectation make one issue, which names the first row
 * and how many more there are: a digestion that is missing is one problem, not one for each of its readings.
 */
export class RowIssues<R> {
  readonly #table: Table<R>;
  readonly #decoded: DecodedTable<R>;
  readonly #groups = new Map<
    string,
    { readonly index: number; readonly problem: CellProblem<R>; count: number }
  >();

  constructor(table: Table<R>, decoded: DecodedTable<R>) {
    this.#table = table;
    this.#decoded = decoded;
  }

  /** Adds a problem of the record at `index`. */
  add(index: number, problem: CellProblem<R>): void {
    const key = JSON.stringify([problem.code, problem.field, this.#found(index, problem), problem.expected]);
    const group = this.#groups.get(key);
    if (group === undefined) this.#groups.set(key, { index, problem, count: 1 });
    else group.count++;
  }

  /** Hands the issues over. */
  report(issues: IssueList): void {
    for (const { index, problem, count } of this.#groups.values()) {
      const more = count > 1 ? ` (and in ${count - 1} more row(s))` : '';
      issues.add({
        code: problem.code,
        file: this.#decoded.file,
        row: this.#decoded.rows[index]!,
        column: headingOf(this.#table, problem.field),
        found: this.#found(index, problem) + more,
        expected: problem.expected,
      });
    }
  }

  #found(index: number, { field, found }: CellProblem<R>): string {
    if (found !== undefined) return found;
    const value = this.#decoded.records[index]![field];
    return quoteFound(typeof value === 'number' ? value : String(value));
  }
}
