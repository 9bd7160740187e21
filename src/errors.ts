/**
 * A fault that meltbook reports in words the user can act on. `exitCode` is what the command line ends with:
 * 2 for bad input, 3 for records that do not pass their check, 4 for a failed run, 5 for evidence that does not hold,
 * 6 for a program that is not installed.
 */
export class MeltbookError extends Error {
  readonly exitCode: number;

  constructor(message: string, exitCode: number, options?: ErrorOptions) {
    super(message, options);
    this.name = new.target.name;
    this.exitCode = exitCode;
  }
}

/** An argument that a function cannot work with: what was found and what was expected stand in the message. */
export class InputError extends MeltbookError {
  constructor(message: string, options?: ErrorOptions) {
    super(message, 2, options);
  }
}

/**
 * One problem in a record, as data; its wording is made by `describeIssue`.
 * `row` counts as a spreadsheet does: the heading is row 1. `null` where a problem has no row or column.
 */
export interface RecordIssue {
  readonly code: string;
  readonly file: string;
  readonly row: number | null;
  readonly column: string | null;
  readonly found: string;
  readonly expected: string;
}

/** One line for people: `digestions.csv, row 7, column "flux g": found "2,O1"; expected a number above 0`. */
export function describeIssue(issue: RecordIssue): string {
  const place = [issue.file];
  if (issue.row !== null) place.push(`row ${issue.row}`);
  if (issue.column !== null)
    place.push(`${issue.file.endsWith('.json') ? 'key' : 'column'} "${issue.column}"`);
  return `${place.join(', ')}: found ${issue.found}; expected ${issue.expected}`;
}

/** Records that do not pass their check. Carries every problem, not only the first. */
export class RecordsError extends MeltbookError {
  readonly issues: readonly RecordIssue[];

  constructor(issues: readonly RecordIssue[]) {
    super(`${issues.length} problem(s) in the records\n${issues.map(describeIssue).join('\n')}`, 3);
    this.issues = issues;
  }
}

/** @throws InputError fewer than `least` values, or one that is not finite (its position is named) */
export function requireFinite(values: ArrayLike<number>, name: string, least = 1): void {
  if (values.length < least) {
    throw new InputError(`${name}: found ${values.length} value(s), expected at least ${least}`);
  }
  for (let i = 0; i < values.length; i++) {
    if (!Number.isFinite(values[i])) {
      throw new InputError(`${name}: found ${values[i]} at position ${i + 1}, expected a finite number`);
    }
  }
}

/** @throws InputError the value is not a finite number above zero */
export function requirePositive(value: number, name: string): void {
  if (!(value > 0 && Number.isFinite(value))) {
    throw new InputError(`${name}: found ${value}, expected a finite number above 0`);
  }
}

/** @throws InputError the value is not a finite number of at least zero */
export function requireNonNegative(value: number, name: string): void {
  if (!(value >= 0 && Number.isFinite(value))) {
    throw new InputError(`${name}: found ${value}, expected a finite number of at least 0`);
  }
}

/** @throws InputError the value is not a whole number between `least` and `most` */
export function requireInteger(
  value: number,
  name: string,
  least: number,
  most = Number.MAX_SAFE_INTEGER,
): void {
  if (!Number.isInteger(value) || value < least || value > most) {
    const range = most === Number.MAX_SAFE_INTEGER ? `of at least ${least}` : `from ${least} to ${most}`;
    throw new InputError(`${name}: found ${value}, expected a whole number ${range}`);
  }
}

/** @throws InputError the value does not lie strictly between 0 and 1 */
export function requireProbability(value: number, name: string): void {
  if (!(value > 0 && value < 1))
    throw new InputError(`${name}: found ${value}, expected a number between 0 and 1`);
}

/** @throws InputError the two lists differ in length */
export function requireSameLength(
  first: ArrayLike<unknown>,
  firstName: string,
  second: ArrayLike<unknown>,
  secondName: string,
): void {
  if (first.length !== second.length) {
    throw new InputError(
      `${firstName} has ${first.length} value(s) and ${secondName} has ${second.length}; expected equally many`,
    );
  }
}
