/** What every fit of y on one x has in common: enough for lack of fit, residual tests and figures. */
export interface FittedCurve {
  readonly x: readonly number[];
  readonly y: readonly number[];
  /** Weights in the unit of 1/y²; all 1 in an unweighted fit. */
  readonly weights: readonly number[];
  readonly fitted: readonly number[];
  /** y − fitted. */
  readonly residuals: readonly number[];
  /** Diagonal of the hat matrix; it sums to the number of parameters. */
  readonly leverages: readonly number[];
  /** Number of fitted parameters. */
  readonly parameters: number;
  readonly n: number;
  /** Σ w·residual². */
  readonly residualSumOfSquares: number;
  /** √(residual sum of squares / degrees of freedom): standard deviation of a y of weight 1. */
  readonly residualStandardDeviation: number;
  readonly degreesOfFreedom: number;
  readonly method: string;
  readonly notes: readonly string[];
}
