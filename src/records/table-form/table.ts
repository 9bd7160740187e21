import type { Column, OpenColumns } from './column.js';

/** The columns of a record, one for each of its fields. */
export type ColumnsOf<R> = { readonly [K in keyof R]: Column<R[K]> | OpenColumns<R[K]> };

/** A problem of one row that no single cell shows. */
export interface RowProblem<R> {
  readonly code: string;
  readonly field: keyof R & string;
  readonly found: string;
  readonly expected: string;
}

/** Everything the records layer knows of one table; decoder, encoder, checker and guide read it. */
export interface Table<R> {
  readonly name: string;
  /** "one digestion": what a row is. */
  readonly rowIs: string;
  readonly columns: ColumnsOf<R>;
  /** Fields that name a row; their values joined by vertical bars are its key. */
  readonly key: readonly (keyof R & string)[];
  /** Without this table no study is possible. */
  readonly required: boolean;
  /** What cannot be decided without the table, in words that go on "not studied: …"; null where nothing hangs on it. */
  readonly withoutIt: string | null;
  readonly checkRow?: (record: R) => readonly RowProblem<R>[];
}

/**
 * Key of a row in its table, such as `D-013` or `R1|12|Al|396.152|2`.
 */
export function rowKey<R>(table: Table<R>, record: R): string {
  return table.key.map((field) => String(record[field])).join('|');
}

/** Heading of a field, as an issue names the column. */
export function headingOf<R>(table: Table<R>, field: keyof R & string): string {
  const column = table.columns[field];
  return column.kind === 'open' ? field : column.heading;
}
