import type { IssueList } from '../issue-list.js';
import { quoteFound } from '../issue-list.js';

/** The sign between whole and decimal digits. */
export type DecimalMark = 'point' | 'comma';

interface Sighting {
  readonly row: number;
  readonly column: string;
  readonly text: string;
}

const numberPattern = /^[+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][+-]?\d+)?$/;
// 1,234 and 1.234 may be a thousand and more, or 1 and a bit; 0,234 and 12,34 leave no doubt.
const doubtfulPattern = /^[+-]?[1-9]\d{0,2}[.,]\d{3}$/;

/**
 * Reads the numbers of one file. Where the decimal mark is not stated, both marks are read, and what was seen is
 * remembered: `report` then says whether the file as a whole leaves no doubt. Thousands separators are refused.
 *
 * In a comma-separated file the mark of an unquoted number can only be the point, so `1.234` leaves no doubt there.
 */
export class NumberReader {
  readonly #stated: DecimalMark | null;
  readonly #file: string;
  readonly #first: Record<DecimalMark, Sighting | null> = { point: null, comma: null };
  readonly #isSettled: Record<DecimalMark, boolean> = { point: false, comma: false };

  constructor(file: string, stated: DecimalMark | null) {
    this.#file = file;
    this.#stated = stated;
  }

  /** To be called once it is known that commas separate the cells. */
  settlePoint(): void {
    this.#isSettled.point = true;
  }

  /** True where `notice` has nothing more to learn from numbers with a point. */
  get knowsPoint(): boolean {
    return this.#stated === 'point' || (this.#first.point !== null && this.#isSettled.point);
  }

  /** The mark of which `notice` has nothing more to learn. */
  get knownMark(): DecimalMark | 'none' {
    if (this.knowsPoint) return 'point';
    const knowsComma = this.#stated === 'comma' || (this.#first.comma !== null && this.#isSettled.comma);
    return knowsComma ? 'comma' : 'none';
  }

  /** The number a text states with the known mark or without any, NaN for every other text. */
  readKnown(text: string): number {
    const mark = this.knownMark;
    const isStrange = (mark !== 'point' && text.includes('.')) || (mark !== 'comma' && text.includes(','));
    return isStrange || !numberPattern.test(text) ? Number.NaN : Number(text.replace(',', '.')) + 0;
  }

  /** The number a text states, NaN where it states none. */
  read(text: string, row: number, column: string): number {
    if (!numberPattern.test(text)) return Number.NaN;
    const mark = text.includes(',') ? 'comma' : text.includes('.') ? 'point' : null;
    if (mark !== null) {
      if (this.#stated !== null && mark !== this.#stated) return Number.NaN;
      this.#first[mark] ??= { row, column, text };
      if (!doubtfulPattern.test(text)) this.#isSettled[mark] = true;
    }
    return Number(text.replace(',', '.')) + 0;
  }

  /** Adds an issue where the numbers of the file use both marks, or leave open which one they use. */
  report(issues: IssueList): void {
    const { point, comma } = this.#first;
    if (this.#stated !== null) return;
    if (point !== null && comma !== null) {
      const [earlier, later] = point.row <= comma.row ? [point, comma] : [comma, point];
      const expected = `one decimal mark in the whole file (row ${earlier.row} holds ${quoteFound(earlier.text)})`;
      issues.add(this.#issue(later, expected));
      return;
    }
    const only = point === null ? ('comma' as const) : ('point' as const);
    const sighting = this.#first[only];
    if (sighting !== null && !this.#isSettled[only]) {
      const expected =
        'a file whose numbers show which sign is the decimal mark, or "decimalMark": "point" or "comma" in study.json';
      issues.add(this.#issue(sighting, expected));
    }
  }

  #issue(sighting: Sighting, expected: string) {
    const { row, column } = sighting;
    return {
      code: 'decimal mark',
      file: this.#file,
      row,
      column,
      found: quoteFound(sighting.text),
      expected,
    };
  }
}
