import type { FittedCurve } from './fitted-curve.js';
import { fitPolynomial } from './polynomial.js';

/** A straight line y = slope·x. */
export interface OriginLineFit extends FittedCurve {
  readonly slope: number;
  readonly varianceSlope: number;
  /** Σ w·x². */
  readonly sumOfSquaresX: number;
  /** Share of Σ w·y² that the line takes up: not comparable with that of a line with intercept. */
  readonly rSquared: number;
  readonly regressionSumOfSquares: number;
}

/**
 * Straight line through the origin by ordinary or weighted least squares.
 *
 * Only where the blank has been shown to be zero: a forced origin hides a bias of every low result.
 *
 * @param x n ≥ 2 values, not all 0
 * @throws InputError too few points, all x 0, a weight not above 0, a value that is not finite
 * @see ISO 11095:1996; Draper and Smith, Applied Regression Analysis, 3rd ed. 1998
 * @example
 * fitLineThroughOrigin([1, 2, 3], [2, 4.1, 5.9]).slope // => 1.9929
 */
export function fitLineThroughOrigin(
  x: readonly number[],
  y: readonly number[],
  weights?: readonly number[],
): OriginLineFit {
  const fit = fitPolynomial(x, y, 1, { throughOrigin: true, ...(weights ? { weights } : {}) });
  const varianceSlope = fit.covariance[0]![0]!;
  const { coefficients, hasIntercept: _, covariance: __, ...rest } = fit;
  const sumOfSquaresX = x.reduce((total, value, i) => total + fit.weights[i]! * value * value, 0);
  return { ...rest, slope: coefficients[0]!, varianceSlope, sumOfSquaresX };
}
