/** Which end of the data is under suspicion. */
export type Side = 'high' | 'low' | 'both';

/** Outcome of a test for outlying values. It flags; it never removes. */
export interface OutlierTest {
  readonly statistic: number;
  /** Limit of the statistic at the level `alpha`. */
  readonly critical: number;
  readonly alpha: number;
  readonly pValue: number;
  /** The statistic lies beyond its limit. */
  readonly outlying: boolean;
  /** Positions, from 0, of the values under suspicion. */
  readonly suspects: readonly number[];
  readonly n: number;
  readonly method: string;
  readonly notes: readonly string[];
}

/** Note on a result where the data hold no variation at all. */
export const allEqual = 'all values are equal: there is nothing to test';

/** Positions of the values from the smallest to the largest; ties in the order given. */
export function ascendingPositions(values: ArrayLike<number>): number[] {
  return Array.from(values, (_, i) => i).sort((a, b) => values[a]! - values[b]! || a - b);
}
