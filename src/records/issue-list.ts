import type { RecordIssue } from '../errors.js';

/** Problems that one file may list one by one; the rest is counted. */
export const mostIssuesPerFile = 1000;

/** Collects the problems of all files. A file broken in every row does not fill the memory: see `mostIssuesPerFile`. */
export class IssueList {
  readonly #issues: RecordIssue[] = [];
  readonly #counts = new Map<string, number>();

  add(issue: RecordIssue): void {
    const count = (this.#counts.get(issue.file) ?? 0) + 1;
    this.#counts.set(issue.file, count);
    if (count <= mostIssuesPerFile) this.#issues.push(issue);
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
    return [...this.#issues, ...closing];
  }
}

/** Cell content as an issue shows it: in quotes, cut after 60 characters, control characters spelled out. */
export function quoteFound(value: string | number): string {
  if (typeof value === 'number') return String(value);
  if (value === '') return 'an empty cell';
  return JSON.stringify(value.length > 60 ? `${value.slice(0, 60)}…` : value);
}
