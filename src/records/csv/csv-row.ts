import type { NumberReader } from '../table-form/number-reader.js';
import type { RowCells } from '../table-form/table-decoder.js';
import { parseDecimal } from './parse-decimal.js';
import { TextStore } from './text-store.js';

/** One row of CSV as places in a block of bytes. */
export class CsvRow {
  readonly #starts: Int32Array;
  readonly #ends: Int32Array;
  readonly #hasPairs: Uint8Array;
  readonly #store = new TextStore();
  #bytes: Uint8Array = new Uint8Array(0);
  #count = 0;

  constructor(capacity: number) {
    this.#starts = new Int32Array(capacity);
    this.#ends = new Int32Array(capacity);
    this.#hasPairs = new Uint8Array(capacity);
  }

  get count(): number {
    return this.#count;
  }

  begin(bytes: Uint8Array): void {
    this.#bytes = bytes;
    this.#count = 0;
  }

  /** Cells beyond the capacity are only counted. */
  add(start: number, end: number, hasPairs: boolean): void {
    const index = this.#count++;
    if (index >= this.#starts.length) return;
    this.#starts[index] = start;
    this.#ends[index] = end;
    this.#hasPairs[index] = hasPairs ? 1 : 0;
  }

  isEmpty(index: number): boolean {
    return this.#starts[index] === this.#ends[index];
  }

  text(index: number): string {
    const text = this.#store.text(this.#bytes, this.#starts[index]!, this.#ends[index]!);
    return this.#hasPairs[index] === 1 ? text.replaceAll('""', '"') : text;
  }

  /** The number a cell of digits and at most one point holds, NaN for every other cell. */
  plainNumber(index: number): number {
    return parseDecimal(this.#bytes, this.#starts[index]!, this.#ends[index]!);
  }
}

/** The present row of a CSV file, as the decoder of a table sees it. */
export class CsvCells implements RowCells {
  readonly #numbers: NumberReader;
  #row: CsvRow | null = null;
  #number = 0;

  constructor(numbers: NumberReader) {
    this.#numbers = numbers;
  }

  turnTo(row: CsvRow, number: number): this {
    this.#row = row;
    this.#number = number;
    return this;
  }

  get count(): number {
    return this.#row!.count;
  }

  isEmpty(index: number): boolean {
    return this.#row!.isEmpty(index);
  }

  text(index: number): string {
    return this.#row!.text(index);
  }

  number(index: number, column: string): number {
    const plain = this.#numbers.knowsPoint ? this.#row!.plainNumber(index) : Number.NaN;
    return Number.isNaN(plain) ? this.#numbers.read(this.#row!.text(index), this.#number, column) : plain;
  }
}
