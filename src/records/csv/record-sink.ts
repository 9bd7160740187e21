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
    const records: Partial<R>[] = [];
    for (let row = from; row < to; row++) records.push({ ...form });
    // Column by column: each kind of column has a loop of its own.
    for (const { bound, block } of columns) block.putInto(records, bound.field, from);
    for (let i = 0; i < records.length; i++) {
      // Every field was decoded, so the record is complete.
      this.#decoder.take(records[i] as R, number + i);
    }
  }
}

function formOf<R>(columns: readonly DecodedColumn<R>[]): Partial<R> {
  return Object.fromEntries(columns.map(({ bound }) => [bound.field, bound.column.empty])) as Partial<R>;
}
