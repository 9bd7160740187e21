import type { RowReference } from './finding.js';

/** One result of one digestion (mean of its readings), with the factors that may matter. `key` names its row in the records. */
export interface ResultRow {
  readonly key: string;
  /** ISO date of the digestion: results of one day share its calibration and its conditions. */
  readonly day: string;
  readonly value: number;
  readonly operator?: string;
  readonly crucible?: string;
  readonly place?: string;
  /** Place in the sequence of the run, from 1. */
  readonly position?: number;
}

/**
 * Rows of one table as a reference, each key once, in order of appearance.
 *
 * @example
 * rowsOf('digestions', [{ key: 'D-1' }, { key: 'D-2' }, { key: 'D-1' }]).keys.length // => 2
 */
export function rowsOf(table: string, rows: readonly { readonly key: string }[]): RowReference {
  return { table, keys: [...new Set(rows.map((row) => row.key))] };
}

/**
 * Values of rows gathered by a label, in order of first appearance.
 *
 * @example
 * valuesBy([{ key: 'a', day: '1', value: 2 }, { key: 'b', day: '1', value: 3 }], (row) => row.day).get('1')?.length // => 2
 */
export function valuesBy<Row extends { readonly value: number }>(
  rows: readonly Row[],
  label: (row: Row) => string,
): Map<string, number[]> {
  const groups = new Map<string, number[]>();
  for (const row of rows) {
    const values = groups.get(label(row));
    if (values === undefined) groups.set(label(row), [row.value]);
    else values.push(row.value);
  }
  return groups;
}
