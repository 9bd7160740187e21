import { refused } from '../table-form/column.js';
import type { BoundColumn } from '../table-form/table-decoder.js';
import { type CodedBlock, MomentBlock, NumberBlock } from './block-columns.js';
import type { BlockSink, DecodedColumn } from './block-decoder.js';
import { type Moment, MomentParser, MomentWriter } from './parse-moment.js';
import { type TypedColumn, TypedRows } from './typed-rows.js';

/** One growing column. */
interface StoredColumn<T> {
  take(from: number, to: number, at: number): void;
  takeValue(value: T, at: number): void;
  grow(capacity: number): void;
  shift(from: number, to: number): void;
  view(from: number, to: number): TypedColumn<T>;
}

/** Gathers sound rows column by column. */
export class ColumnStore<R> implements BlockSink<R> {
  #stored: (readonly [bound: BoundColumn<R>, column: StoredColumn<R[keyof R & string]>])[] = [];
  #rows: Int32Array;
  #count = 0;

  /** @param capacity rows to make room for; more room is made where it is needed */
  constructor(capacity: number) {
    this.#rows = new Int32Array(capacity);
  }

  get count(): number {
    return this.#count;
  }

  /** To be called once the columns are known. */
  open(columns: readonly DecodedColumn<R>[]): void {
    this.#stored = columns.map((column) => [column.bound, storedColumn(column)]);
    for (const [, stored] of this.#stored) stored.grow(this.#rows.length);
  }

  take(_: readonly DecodedColumn<R>[], from: number, to: number, number: number): void {
    this.#reserve(to - from);
    for (const [, stored] of this.#stored) stored.take(from, to, this.#count);
    for (let i = 0; i < to - from; i++) this.#rows[this.#count + i] = number + i;
    this.#count += to - from;
  }

  /** Takes a row that was decoded by itself. */
  takeRecord(record: R, row: number): void {
    this.#reserve(1);
    for (const [{ field }, stored] of this.#stored) stored.takeValue(record[field], this.#count);
    this.#rows[this.#count++] = row;
  }

  /** Rows `from` to before `to`, without copying. */
  view(from: number, to: number): TypedRows<R> {
    const columns = this.#stored.map(([{ field }, stored]) => [field, stored.view(from, to)] as const);
    return new TypedRows(this.#rows.subarray(from, to), new Map(columns));
  }

  /** Forgets the first rows. */
  drop(count: number): void {
    for (const [, stored] of this.#stored) stored.shift(count, this.#count);
    this.#rows.copyWithin(0, count, this.#count);
    this.#count -= count;
  }

  #reserve(more: number): void {
    let capacity = this.#rows.length;
    if (this.#count + more <= capacity) return;
    while (this.#count + more > capacity) capacity = Math.ceil(capacity * 1.5) + 16;
    this.#rows = longer(this.#rows, new Int32Array(capacity));
    for (const [, stored] of this.#stored) stored.grow(capacity);
  }
}

function longer<A extends { set(values: A): void }>(values: A, room: A): A {
  room.set(values);
  return room;
}

function storedColumn<R>({ bound, block }: DecodedColumn<R>): StoredColumn<R[keyof R & string]> {
  if (block instanceof NumberBlock) return storedNumbers(block, bound);
  if (block instanceof MomentBlock) {
    // A column of this kind holds texts.
    return storedMoments(block) as unknown as StoredColumn<R[keyof R & string]>;
  }
  return storedCodes(block as CodedBlock<R[keyof R & string]>);
}

function storedNumbers<R>(
  block: NumberBlock<R[keyof R & string]>,
  { column }: BoundColumn<R>,
): StoredColumn<R[keyof R & string]> {
  let numbers = new Float64Array(0);
  return {
    take: (from, to, at) => numbers.set(block.values.subarray(from, to), at),
    takeValue: (value, at) => {
      numbers[at] = typeof value === 'number' ? value : Number.NaN;
    },
    grow: (capacity) => {
      numbers = longer(numbers, new Float64Array(capacity));
    },
    shift: (from, to) => numbers.copyWithin(0, from, to),
    view: (from, to) => {
      // A column in which no cell may be empty holds no NaN.
      const empty = (column.empty === refused ? Number.NaN : column.empty) as R[keyof R & string];
      return { kind: 'number', numbers: numbers.subarray(from, to), empty };
    },
  };
}

function storedMoments(block: MomentBlock): StoredColumn<string> {
  let milliseconds = new Float64Array(0);
  let decimals = new Uint8Array(0);
  const parser = new MomentParser();
  const writer = new MomentWriter();
  return {
    take: (from, to, at) => {
      milliseconds.set(block.milliseconds.subarray(from, to), at);
      decimals.set(block.decimals.subarray(from, to), at);
    },
    takeValue: (value, at) => {
      const bytes = new TextEncoder().encode(value);
      const moment: Moment = { milliseconds: Number.NaN, decimals: 0 };
      parser.parse(bytes, 0, bytes.length, moment);
      milliseconds[at] = moment.milliseconds;
      decimals[at] = moment.decimals;
    },
    grow: (capacity) => {
      milliseconds = longer(milliseconds, new Float64Array(capacity));
      decimals = longer(decimals, new Uint8Array(capacity));
    },
    shift: (from, to) => {
      milliseconds.copyWithin(0, from, to);
      decimals.copyWithin(0, from, to);
    },
    view: (from, to) => {
      const [numbers, written] = [milliseconds.subarray(from, to), decimals.subarray(from, to)];
      return {
        kind: 'moment',
        numbers,
        decimals: written,
        textAt: (row) => writer.text(numbers[row]!, written[row]!),
      };
    },
  };
}

function storedCodes<T>(block: CodedBlock<T>): StoredColumn<T> {
  let codes = new Int32Array(0);
  return {
    take: (from, to, at) => codes.set(block.codes.subarray(from, to), at),
    takeValue: (value, at) => {
      codes[at] = block.codeOf(value);
    },
    grow: (capacity) => {
      codes = longer(codes, new Int32Array(capacity));
    },
    shift: (from, to) => codes.copyWithin(0, from, to),
    view: (from, to) => ({ kind: 'code', codes: codes.subarray(from, to), values: block.values }),
  };
}
