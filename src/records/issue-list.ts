import type { RecordIssue } from '../errors.js';

/** Problems that one file may list one by one; the rest is counted. */
export const mostIssuesPerFile = 1000;

/** A problem and how many rows have it. */
interface Listed {
  readonly issue: RecordIssue;
  rows: number;
}

/**
 * Collects the problems of all files. Problems that differ by their row alone are one, which names the first row and how
 * many more there are: a digestion that is missing is one problem, not one for each of its readings. A file broken in every
 * row does not fill the memory: see `mostIssuesPerFile`.
 */
export class IssueList {
  readonly #listed: Listed[] = [];
  readonly #inRows = new Map<string, Listed>();
  readonly #counts = new Map<string, number>();

  add(issue: RecordIssue): void {
    const { code, file, row, column, found, expected } = issue;
    const key = row === null ? null : JSON.stringify([code, file, column, found, expected]);
    const same = key === null ? undefined : this.#inRows.get(key);
    if (same !== undefined) {
      same.rows++;
      return;
    }
    const count = (this.#counts.get(file) ?? 0) + 1;
    this.#counts.set(file, count);
    if (count > mostIssuesPerFile) return;
    const listed = { issue, rows: 1 };
    this.#listed.push(listed);
    if (key !== null) this.#inRows.set(key, listed);
  }

  /** All problems; a last one for each file says how many more there are than the list shows. */
  all(): RecordIssue[] {
    const surplus = [...this.#counts].filter(([, count]) => count > mostIssuesPerFile);
    const closing = surplus.map(([file, count]) => ({
      code: 'more problems',
      file,
      row: null,
      column: null,
      found: `${count - mostIssuesPerFile} more problem(s)`,
      expected: `the first ${mostIssuesPerFile} to be mended first`,
    }));
    return [...this.#listed.map(withRows), ...closing];
  }
}

function withRows({ issue, rows }: Listed): RecordIssue {
  return rows === 1 ? issue : { ...issue, found: `${issue.found} (and in ${rows - 1} more row(s))` };
}

/** Cell content as an issue shows it: in quotes, cut after 60 characters, control characters spelled out. */
export function quoteFound(value: string | number): string {
  if (typeof value === 'number') return String(value);
  if (value === '') return 'an empty cell';
  return JSON.stringify(value.length > 60 ? `${value.slice(0, 60)}…` : value);
}
