/** A two-sided interval with its coverage probability. */
export interface Interval {
  readonly low: number;
  readonly high: number;
  readonly coverage: number;
}
