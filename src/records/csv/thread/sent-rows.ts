import { MomentWriter } from '../parse-moment.js';
import { type TypedColumn, TypedRows } from '../typed-rows.js';

/** One column of rows on the way from one thread to another. */
export type SentColumn =
  | { readonly kind: 'number'; readonly numbers: Float64Array; readonly empty: unknown }
  | { readonly kind: 'moment'; readonly numbers: Float64Array; readonly decimals: Uint8Array }
  /** `more` are the values that came first since the part before. */
  | { readonly kind: 'code'; readonly codes: Int32Array; readonly more: readonly unknown[] };

/** Rows on the way from one thread to another; the memory of their columns goes with them. */
export interface SentRows {
  readonly rows: Int32Array;
  readonly columns: readonly (readonly [field: string, column: SentColumn])[];
}

/** Copies rows out of a store that goes on, part by part. */
export class RowSender<R> {
  readonly #known = new Map<string, number>();

  send(typed: TypedRows<R>): SentRows {
    const columns = [...typed.columns].map(
      ([field, column]) => [field, this.#column(field, column)] as const,
    );
    return { rows: typed.rows.slice(), columns };
  }

  #column(field: string, column: TypedColumn<unknown>): SentColumn {
    switch (column.kind) {
      case 'number':
        return { kind: 'number', numbers: column.numbers.slice(), empty: column.empty };
      case 'moment':
        return { kind: 'moment', numbers: column.numbers.slice(), decimals: column.decimals.slice() };
      case 'code': {
        const more = column.values.slice(this.#known.get(field) ?? 0);
        this.#known.set(field, column.values.length);
        return { kind: 'code', codes: column.codes.slice(), more };
      }
    }
  }
}

/** The memory that goes with rows. */
export function memoryOf({ rows, columns }: SentRows): ArrayBufferLike[] {
  return [rows, ...columns.flatMap(([, column]) => arraysOf(column))].map(({ buffer }) => buffer);
}

function arraysOf(column: SentColumn): (Float64Array | Int32Array | Uint8Array)[] {
  if (column.kind === 'code') return [column.codes];
  return column.kind === 'moment' ? [column.numbers, column.decimals] : [column.numbers];
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
