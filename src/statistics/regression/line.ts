import { InputError, requireFinite, requirePositive, requireSameLength } from '../../errors.js';
import {
  add,
  divide,
  multiply,
  narrow,
  square,
  squareRoot,
  subtract,
  wide,
  withoutNoise,
} from '../arithmetic/double-double.js';
import type { FittedCurve } from './fitted-curve.js';
import { lineSums } from './line-sums.js';

/** A straight line y = intercept + slope·x, fitted by least squares, with what follows from it. */
export interface LineFit extends FittedCurve {
  readonly intercept: number;
  readonly slope: number;
  readonly varianceIntercept: number;
  readonly varianceSlope: number;
  /** Covariance of intercept and slope. */
  readonly covariance: number;
  /** Weighted mean of x. */
  readonly xMean: number;
  /** Weighted mean of y: the line passes through (xMean, yMean). */
  readonly yMean: number;
  /** Σ w·(x − xMean)². */
  readonly sumOfSquaresX: number;
  readonly sumOfWeights: number;
  /** Σ w·(fitted − yMean)². */
  readonly regressionSumOfSquares: number;
  readonly rSquared: number;
}

/**
 * Straight line by ordinary or weighted least squares.
 *
 * Answers: which line y = a + b·x do these points support, and how well? x is taken as exact; for uncertain x see `york` and
 * `generalisedDistanceFit`. The variances are scaled by the residual standard deviation, so weights need only be right up
 * to a common factor. Sums are carried in 106 bits.
 *
 * @param x n ≥ 3 values, at least two of them different
 * @param y n responses
 * @param weights n positive weights, in the unit of 1/y² where they come from variances; all 1 where absent
 * @throws InputError fewer than three points, unequal lengths, all x equal, a weight not above 0, a value that is not finite
 * @see Draper and Smith, Applied Regression Analysis, 3rd ed. 1998, ch. 1 and 9; GUM (JCGM 100:2008), H.3
 * @example
 * fitLine([0, 1, 2, 3], [0.1, 2.1, 3.9, 6.1]).slope // => 1.98
 */
export function fitLine(x: readonly number[], y: readonly number[], weights?: readonly number[]): LineFit {
  requirePoints(x, y, weights);
  const w = weights ?? x.map(() => 1);
  if (x.every((value) => value === x[0])) {
    throw new InputError('x: found all values equal, expected at least two different ones');
  }
  const sums = lineSums(x, y, w);
  const { slope, residuals } = sums;
  const scale = y.reduce((sum, value, i) => sum + w[i]! * value * value, 0);
  const rss = withoutNoise(sums.residual, scale);
  const nu = x.length - 2;
  const s2 = divide(rss, wide(nu));
  const regression = multiply(slope, sums.xy);
  const total = add(regression, rss);
  const varianceSlope = divide(s2, sums.xx);
  const [sumOfWeights, xMean, sumOfSquaresX] = [narrow(sums.w), narrow(sums.xMean), narrow(sums.xx)];
  return {
    intercept: narrow(subtract(sums.yMean, multiply(slope, sums.xMean))),
    slope: narrow(slope),
    varianceIntercept: narrow(add(divide(s2, sums.w), multiply(square(sums.xMean), varianceSlope))),
    varianceSlope: narrow(varianceSlope),
    covariance: -narrow(multiply(sums.xMean, varianceSlope)),
    residualStandardDeviation: narrow(squareRoot(s2)),
    degreesOfFreedom: nu,
    residuals,
    fitted: residuals.map((r, i) => y[i]! - r),
    leverages: x.map((value, i) => w[i]! * (1 / sumOfWeights + (value - xMean) ** 2 / sumOfSquaresX)),
    weights: w,
    x,
    y,
    xMean,
    yMean: narrow(sums.yMean),
    sumOfSquaresX,
    sumOfWeights,
    regressionSumOfSquares: narrow(regression),
    residualSumOfSquares: narrow(rss),
    rSquared: narrow(total) === 0 ? 0 : narrow(divide(regression, total)),
    parameters: 2,
    n: x.length,
    method: weights ? 'weighted least squares' : 'ordinary least squares',
    notes: narrow(rss) === 0 ? ['Every point lies on the line: the residual standard deviation is 0.'] : [],
  };
}

/** @throws InputError points or weights that no fit can use */
export function requirePoints(
  x: readonly number[],
  y: readonly number[],
  weights: readonly number[] | undefined,
  least = 3,
): void {
  requireFinite(x, 'x', least);
  requireSameLength(x, 'x', y, 'y');
  requireFinite(y, 'y', least);
  if (!weights) return;
  requireSameLength(x, 'x', weights, 'weights');
  weights.forEach((weight, i) => {
    requirePositive(weight, `weight ${i + 1}`);
  });
}
