/** A straight line fitted to points with stated uncertainties: its covariance rests on them, not on the scatter. */
export interface UncertainLineFit {
  readonly intercept: number;
  readonly slope: number;
  readonly varianceIntercept: number;
  readonly varianceSlope: number;
  /** Covariance of intercept and slope. */
  readonly covariance: number;
  /** Observed χ²: weighted sum of squares left over. */
  readonly chiSquared: number;
  readonly degreesOfFreedom: number;
  /** Probability of a χ² at least as large if line and uncertainties hold. */
  readonly pValue: number;
  /** Estimates of the true x. */
  readonly adjustedX: readonly number[];
  readonly n: number;
  readonly iterations: number;
  readonly method: string;
  readonly notes: readonly string[];
}

/** Notes of a fit whose χ² is beyond the 95 % quantile. */
export function consistencyNotes(pValue: number): string[] {
  return pValue < 0.05
    ? [
        'χ² exceeds its 95 % quantile: the scatter about the line is larger than the stated uncertainties allow.',
      ]
    : [];
}
