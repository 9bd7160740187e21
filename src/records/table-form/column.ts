import { isCalendarDate, normaliseDateTime } from '../dates.js';
import { sizeLimits } from '../size-limits.js';
import { type Bounds, boundsWording, withinBounds } from './bounds.js';

/** What `decode` answers for a cell it cannot take. */
export const refused: unique symbol = Symbol('refused');
export type Refused = typeof refused;

export type ColumnKind = 'text' | 'number' | 'integer' | 'date' | 'date and time' | 'choice' | 'list';

/**
 * One column of a table: the heading as people type it (with its unit), what a cell holds, and both directions of the
 * translation. Decoder, encoder and the guide of a new study follow from it.
 */
export interface Column<T> {
  readonly heading: string;
  readonly kind: ColumnKind;
  /** True where the column must be there and no cell of it may be empty. */
  readonly required: boolean;
  /** What is expected, in words that end "expected …". */
  readonly expected: string;
  /** What the column means, for the guide. */
  readonly about: string;
  /** Value of an empty cell, or of every cell where the column is absent. */
  readonly empty: T | Refused;
  /** True where a table is written without the column as long as no row fills it. */
  readonly isLeftOutUnused?: true;
  /** What a number may be. */
  readonly bounds?: Bounds;
  /** Of a cell that is not empty: text without blanks at its ends, or a number. */
  readonly decode: (cell: string | number) => T | Refused;
  /** Empty text for an empty cell. */
  readonly encode: (value: T) => string | number;
}

/** All columns that the known headings do not claim, taken together (the factors of a ruggedness experiment). */
export interface OpenColumns<T> {
  readonly kind: 'open';
  readonly expected: string;
  readonly about: string;
  readonly decode: (cells: ReadonlyMap<string, string | number>) => T | Refused;
  readonly encode: (value: T) => ReadonlyMap<string, string | number>;
}

/** A text that must be there. */
export function text(heading: string, about: string): Column<string> {
  return {
    ...{ heading, kind: 'text', required: true, expected: 'a text', about, empty: refused },
    decode: decodeText,
    encode: (value) => value,
  };
}

/** A text that may be empty. */
export function optionalText(heading: string, about: string): Column<string> {
  return { ...text(heading, about), required: false, empty: '' };
}

/** A name that rows are known by: a vertical bar joins the parts of a key, so a name holds none. */
export function name(heading: string, about: string): Column<string> {
  return {
    ...text(heading, about),
    expected: 'a name without a vertical bar',
    decode: (cell) => {
      const value = decodeText(cell);
      return value === refused || value.includes('|') ? refused : value;
    },
  };
}

/** A number that must be there. */
export function number(heading: string, about: string, bounds: Bounds = {}): Column<number> {
  return {
    ...{ heading, kind: 'number', required: true, about, empty: refused, bounds },
    expected: boundsWording('a number', bounds),
    decode: (cell) => (typeof cell === 'number' && withinBounds(cell, bounds) ? cell : refused),
    encode: (value) => value,
  };
}

/** A number, or `null` for an empty cell. */
export function optionalNumber(heading: string, about: string, bounds: Bounds = {}): Column<number | null> {
  const { decode, expected } = number(heading, about, bounds);
  return {
    ...{ heading, kind: 'number', required: false, about, empty: null, bounds, decode },
    expected: `${expected}, or nothing`,
    encode: (value) => value ?? '',
  };
}

/** A whole number that must be there. */
export function integer(heading: string, about: string, bounds: Bounds = {}): Column<number> {
  return {
    ...number(heading, about, bounds),
    kind: 'integer',
    expected: boundsWording('a whole number', bounds),
    decode: (cell) =>
      Number.isSafeInteger(cell) && withinBounds(Number(cell), bounds) ? Number(cell) : refused,
  };
}

/** A calendar date. */
export function date(heading: string, about: string): Column<string> {
  return {
    ...text(heading, about),
    kind: 'date',
    expected: 'a calendar date such as 2025-03-14',
    decode: (cell) => (typeof cell === 'string' && isCalendarDate(cell) ? cell : refused),
  };
}

/** A date and time, local and without zone. */
export function dateTime(heading: string, about: string): Column<string> {
  return {
    ...text(heading, about),
    kind: 'date and time',
    expected: 'a date and time such as 2025-03-14T09:05:00 or 2025-03-14 09:05',
    decode: (cell) => (typeof cell === 'string' ? (normaliseDateTime(cell) ?? refused) : refused),
  };
}

/** One of a few words. */
export function choice<const T extends string>(
  heading: string,
  about: string,
  choices: readonly T[],
): Column<T> {
  return {
    ...{ heading, kind: 'choice', required: true, about, empty: refused },
    expected: `one of: ${choices.join(', ')}`,
    decode: (cell) => choices.find((each) => each === cell) ?? refused,
    encode: (value) => value,
  };
}

/** Names joined by vertical bars. */
export function list(heading: string, about: string): Column<readonly string[]> {
  return {
    ...{ heading, kind: 'list', required: true, about, empty: refused },
    expected: 'names joined by vertical bars',
    decode: (cell) => {
      const value = decodeText(cell);
      if (value === refused) return refused;
      const parts = value.split('|').map((part) => part.trim());
      return parts.includes('') ? refused : parts;
    },
    encode: (value) => value.join('|'),
  };
}

/** What a spreadsheet shows where a formula failed: never what somebody meant to record. */
const failedFormula = /^#(?:DIV\/0!|N\/A|NAME\?|NULL!|NUM!|REF!|VALUE!|SPILL!|CALC!)$/;

function decodeText(cell: string | number): string | Refused {
  const value = typeof cell === 'number' ? String(cell) : cell.replace(/\r\n?/g, '\n');
  if (failedFormula.test(value)) return refused;
  const isSound = value.length <= sizeLimits.cellCharacters && !/\p{Cs}/u.test(value);
  return isSound && !/\p{Cc}/u.test(value.replace(/[\n\t]/g, '')) ? value : refused;
}
