import { MomentWriter } from '../parse-moment.js';
import { type TypedColumn, TypedRows } from '../typed-rows.js';

/** One column of rows on the way from one thread to another. */
export type SentColumn =
  | { readonly kind: 'number'; readonly numbers: Float64Array; readonly empty: unknown }
  | { readonly kind: 'moment'; readonly numbers: Float64Array; readonly decimals: Uint8Array }
  /** `more` are the values that came first since the part before. */
  | { readonly kind: 'code'; readonly codes: Int32Array; readonly more: readonly unknown[] };

/** Rows on the way from one thread to another, in memory that both see. */
export interface SentRows {
  readonly rows: Int32Array;
  readonly columns: readonly (readonly [field: string, column: SentColumn])[];
}

/** Copies rows out of a store that goes on, part by part. */
export class RowSender<R> {
  readonly #known = new Map<string, number>();
  readonly #memories: readonly SharedPart[];
  #sent = 0;

  /** @param parts the memory of a part is used again for the one so many later: new memory for each is dear */
  constructor(parts: number) {
    this.#memories = Array.from({ length: parts }, () => new SharedPart());
  }

  send(typed: TypedRows<R>): SentRows {
    const memory = this.#memories[this.#sent++ % this.#memories.length]!;
    memory.begin(typed.count, typed.columns.size + 1);
    const columns = [...typed.columns].map(
      ([field, column]) => [field, this.#column(field, column, memory)] as const,
    );
    return { rows: memory.int32(typed.rows), columns };
  }

  #column(field: string, column: TypedColumn<unknown>, memory: SharedPart): SentColumn {
    switch (column.kind) {
      case 'number':
        return { kind: 'number', numbers: memory.float64(column.numbers), empty: column.empty };
      case 'moment': {
        const numbers = memory.float64(column.numbers);
        return { kind: 'moment', numbers, decimals: memory.uint8(column.decimals) };
      }
      case 'code': {
        const more = column.values.slice(this.#known.get(field) ?? 0);
        this.#known.set(field, column.values.length);
        return { kind: 'code', codes: memory.int32(column.codes), more };
      }
    }
  }
}

/** Bytes that one row takes of one column at most: a moment and its decimals. */
const mostBytes = Float64Array.BYTES_PER_ELEMENT + 1;

/** Shared memory for the columns of one part. */
class SharedPart {
  #buffer = new SharedArrayBuffer(0);
  #used = 0;

  begin(rows: number, columns: number): void {
    this.#used = 0;
    // Each column begins at a multiple of 8 bytes; a moment's decimals are one more.
    const bytes = columns * (rows * mostBytes + 16);
    if (bytes > this.#buffer.byteLength) this.#buffer = new SharedArrayBuffer(Math.ceil(1.25 * bytes));
  }

  float64(values: Float64Array): Float64Array {
    const copy = new Float64Array(this.#buffer, this.#take(values.byteLength), values.length);
    copy.set(values);
    return copy;
  }

  int32(values: Int32Array): Int32Array {
    const copy = new Int32Array(this.#buffer, this.#take(values.byteLength), values.length);
    copy.set(values);
    return copy;
  }

  uint8(values: Uint8Array): Uint8Array {
    const copy = new Uint8Array(this.#buffer, this.#take(values.byteLength), values.length);
    copy.set(values);
    return copy;
  }

  #take(bytes: number): number {
    const from = this.#used;
    this.#used += Math.ceil(bytes / 8) * 8;
    return from;
  }
}

/** Makes rows again of what a sender sent, part by part in the same order. */
export class RowReceiver<R> {
  readonly #values = new Map<string, unknown[]>();
  readonly #writer = new MomentWriter();

  receive({ rows, columns }: SentRows): TypedRows<R> {
    const received = columns.map(([field, column]) => [field, this.#column(field, column)] as const);
    // The columns are those of the rows that were sent.
    return new TypedRows<R>(
      rows,
      new Map(received as [keyof R & string, TypedColumn<R[keyof R & string]>][]),
    );
  }

  #column(field: string, column: SentColumn): TypedColumn<unknown> {
    if (column.kind === 'number') return column;
    if (column.kind === 'moment') {
      const { numbers, decimals } = column;
      return { ...column, textAt: (row) => this.#writer.text(numbers[row]!, decimals[row]!) };
    }
    const values = this.#values.get(field) ?? [];
    this.#values.set(field, values);
    for (const value of column.more) values.push(value);
    return { kind: 'code', codes: column.codes, values };
  }
}
