import type { TableDecoder } from '../table-form/table-decoder.js';
import type { BlockSink, DecodedColumn } from './block-decoder.js';

/** Makes a record of each row of a block. */
export class RecordSink<R> implements BlockSink<R> {
  readonly #decoder: TableDecoder<R>;
  /** A record to copy: all of one shape, with their fields inside, take half the memory. */
  #form: Partial<R> | null = null;

  constructor(decoder: TableDecoder<R>) {
    this.#decoder = decoder;
  }

  take(columns: readonly DecodedColumn<R>[], from: number, to: number, number: number): void {
    const form = this.#form ?? formOf(columns);
    this.#form = form;
    const records = copiesOf(form, to - from);
    // Column by column: each kind of column has a loop of its own.
    for (const { bound, block } of columns) block.putInto(records, bound.field, from);
    // Every field was decoded, so the records are complete.
    this.#decoder.takeAll(records as R[], number);
  }
}

function copiesOf<T extends object>(form: T, count: number): T[] {
  const copies: T[] = [];
  for (let i = 0; i < count; i++) copies.push({ ...form });
  return copies;
}

function formOf<R>(columns: readonly DecodedColumn<R>[]): Partial<R> {
  return Object.fromEntries(columns.map(({ bound }) => [bound.field, bound.column.empty])) as Partial<R>;
}
