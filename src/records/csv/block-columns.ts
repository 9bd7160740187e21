import { unguardFormula } from '../formula-guard.js';
import { type Column, refused } from '../table-form/column.js';
import type { NumberReader } from '../table-form/number-reader.js';
import { ByteDictionary } from './byte-dictionary.js';
import type { CellBlock } from './cell-block.js';
import { putDecimal } from './parse-decimal.js';
import { type Moment, MomentParser, MomentWriter } from './parse-moment.js';

/** Cells of one column of a block, decoded into numbers. */
export interface BlockColumn<T> {
  /** Decodes the column; rows with a cell that needs another look are marked in `doubtful`. */
  read(block: CellBlock, place: number, doubtful: Uint8Array): void;
  /** For a column that the file does not have: every cell is empty. */
  fillEmpty(): void;
  /** Puts the values of rows that are not doubtful, from row `from` on, into a field of as many records. */
  putInto<F extends string>(records: readonly Partial<Record<F, T>>[], field: F, from: number): void;
}

/** Of a number whose mark is not yet known only digits are taken here. */
const markBytes = { point: 0x2e, comma: 0x2c, none: 0 } as const;

const decoder = new TextDecoder('utf-8', { ignoreBOM: true });

/** Numbers; NaN stands for an empty cell. */
export class NumberBlock<T> implements BlockColumn<T> {
  readonly values: Float64Array;
  readonly #column: Column<T>;
  readonly #numbers: NumberReader;
  readonly #range: ReturnType<typeof rangeOf>;

  constructor(column: Column<T>, capacity: number, numbers: NumberReader) {
    this.#column = column;
    this.#numbers = numbers;
    this.#range = rangeOf(column);
    this.values = new Float64Array(capacity);
  }

  read(block: CellBlock, place: number, doubtful: Uint8Array): void {
    const { bytes, starts, ends, width, count } = block;
    const values = this.values;
    const mark = markBytes[this.#numbers.knownMark];
    const { above, below, least, most, isWhole, mayBeEmpty } = this.#range;
    for (let row = 0, cell = place; row < count; row++, cell += width) {
      const start = starts[cell]!;
      const end = ends[cell]!;
      if (start === end) {
        values[row] = Number.NaN;
        if (!mayBeEmpty) doubtful[row] = 1;
        continue;
      }
      putDecimal(bytes, start, end, mark, values, row);
      if (Number.isNaN(values[row])) {
        values[row] = this.#numbers.readKnown(decoder.decode(bytes.subarray(start, end)));
      }
      const value = values[row]!;
      const isInside = value > above && value < below && value >= least && value <= most;
      if (!isInside || (isWhole && !Number.isSafeInteger(value))) {
        doubtful[row] = 1;
      }
    }
  }

  fillEmpty(): void {
    this.values.fill(Number.NaN);
  }

  putInto<F extends string>(records: readonly Partial<Record<F, T>>[], field: F, from: number): void {
    const { empty } = this.#column;
    for (let i = 0; i < records.length; i++) {
      const value = this.values[from + i]!;
      // Only an empty cell that may be empty is held as NaN; a column of numbers holds numbers otherwise.
      records[i]![field] = (Number.isNaN(value) ? empty : value) as T;
    }
  }
}

/** What the column takes without a second look: the meaning of its `decode`, in numbers. */
function rangeOf<T>({ bounds = {}, kind, empty }: Column<T>) {
  return {
    above: bounds.above ?? Number.NEGATIVE_INFINITY,
    below: bounds.below ?? Number.POSITIVE_INFINITY,
    least: bounds.atLeast ?? -Number.MAX_VALUE,
    most: bounds.atMost ?? Number.MAX_VALUE,
    isWhole: kind === 'integer',
    mayBeEmpty: empty !== refused,
  };
}

/** Texts, dates and choices, each different value by a number of its own. */
export class CodedBlock<T> implements BlockColumn<T> {
  readonly codes: Int32Array;
  /** Value of each code. */
  readonly values: T[] = [];
  readonly #column: Column<T>;
  readonly #dictionary = new ByteDictionary();
  /** Code of each entry of the dictionary, −1 where the column refuses it: `Al` and `Al` with a no-break space are one. */
  readonly #codeOfBytes: number[] = [];
  /** Null as long as all values are their cells as they stand: the dictionary then tells them apart. */
  #codeOfValue: Map<T, number> | null = null;
  #view: Uint8Array | null = null;
  #bytes: Buffer = Buffer.alloc(0);

  constructor(column: Column<T>, capacity: number) {
    this.#column = column;
    this.codes = new Int32Array(capacity);
  }

  read(block: CellBlock, place: number, doubtful: Uint8Array): void {
    const { bytes, starts, ends, width, count } = block;
    const codes = this.codes;
    let previousStart = 0;
    let previousEnd = -1;
    let code = 0;
    for (let row = 0, cell = place; row < count; row++, cell += width) {
      const start = starts[cell]!;
      const end = ends[cell]!;
      if (!isSame(bytes, previousStart, previousEnd, start, end)) code = this.#decode(bytes, start, end);
      previousStart = start;
      previousEnd = end;
      codes[row] = code;
      if (code < 0) doubtful[row] = 1;
    }
  }

  fillEmpty(): void {
    const { empty } = this.#column;
    if (empty !== refused) this.codes.fill(this.codeOf(empty));
  }

  putInto<F extends string>(records: readonly Partial<Record<F, T>>[], field: F, from: number): void {
    const { values, codes } = this;
    for (let i = 0; i < records.length; i++) records[i]![field] = values[codes[from + i]!]!;
  }

  /** Code of a value, a new one where it comes first. */
  codeOf(value: T): number {
    this.#codeOfValue ??= new Map(this.values.map((each, code) => [each, code]));
    let code = this.#codeOfValue.get(value);
    if (code === undefined) {
      code = this.values.push(value) - 1;
      this.#codeOfValue.set(value, code);
    }
    return code;
  }

  #decode(bytes: Uint8Array, start: number, end: number): number {
    const entry = this.#dictionary.codeOf(bytes, start, end);
    if (entry === this.#codeOfBytes.length) {
      const { decode, empty } = this.#column;
      const text = this.#text(bytes, start, end);
      const value = start === end ? empty : decode(unguardFormula(text.trim()));
      if (value === refused) this.#codeOfBytes.push(-1);
      else if (value === text && this.#codeOfValue === null)
        this.#codeOfBytes.push(this.values.push(value) - 1);
      else this.#codeOfBytes.push(this.codeOf(value));
    }
    return this.#codeOfBytes[entry]!;
  }

  /** Plain ASCII, which nearly all names are, costs a tenth of what a decoder takes. */
  #text(bytes: Uint8Array, start: number, end: number): string {
    for (let at = start; at < end; at++) {
      if (bytes[at]! >= 0x80) return decoder.decode(bytes.subarray(start, end));
    }
    if (this.#view !== bytes) {
      this.#view = bytes;
      this.#bytes = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length);
    }
    return this.#bytes.toString('latin1', start, end);
  }
}

function isSame(bytes: Uint8Array, first: number, firstEnd: number, second: number, secondEnd: number) {
  if (firstEnd - first !== secondEnd - second) return false;
  for (let a = first, b = second; a < firstEnd; a++, b++) if (bytes[a] !== bytes[b]) return false;
  return true;
}

/** Dates and times as milliseconds since 1970-01-01T00:00, local and without zone. */
export class MomentBlock implements BlockColumn<string> {
  readonly milliseconds: Float64Array;
  /** Decimals of the second that were written: a record keeps them. */
  readonly decimals: Uint8Array;
  readonly #parser = new MomentParser();
  readonly #moment: Moment = { milliseconds: 0, decimals: 0 };
  readonly #writer = new MomentWriter();

  constructor(capacity: number) {
    this.milliseconds = new Float64Array(capacity);
    this.decimals = new Uint8Array(capacity);
  }

  read(block: CellBlock, place: number, doubtful: Uint8Array): void {
    const { bytes, starts, ends, width, count } = block;
    const { milliseconds, decimals } = this;
    const moment = this.#moment;
    const parser = this.#parser;
    for (let row = 0, cell = place; row < count; row++, cell += width) {
      if (!parser.parse(bytes, starts[cell]!, ends[cell]!, moment)) doubtful[row] = 1;
      milliseconds[row] = moment.milliseconds;
      decimals[row] = moment.decimals;
    }
  }

  fillEmpty(): void {
    this.milliseconds.fill(Number.NaN);
  }

  putInto<F extends string>(records: readonly Partial<Record<F, string>>[], field: F, from: number): void {
    for (let i = 0; i < records.length; i++) {
      records[i]![field] = this.#writer.text(this.milliseconds[from + i]!, this.decimals[from + i]!);
    }
  }
}
