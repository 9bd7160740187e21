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
    for (let row = from; row < to; row++) {
      const record = { ...form };
      for (const { bound, block } of columns) {
        record[bound.field] = block.valueAt(row);
      }
      // Every field was decoded, so the record is complete.
      this.#decoder.take(record as R, number + row - from);
    }
  }
}

function formOf<R>(columns: readonly DecodedColumn<R>[]): Partial<R> {
  return Object.fromEntries(columns.map(({ bound }) => [bound.field, bound.column.empty])) as Partial<R>;
}
