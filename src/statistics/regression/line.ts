import { InputError, requireFinite, requirePositive, requireSameLength } from '../../errors.js';
import {
  add,
  type DoubleDouble,
  divide,
  dot,
  multiply,
  narrow,
  square,
  squareRoot,
  subtract,
  wide,
  withoutNoise,
  zero,
} from '../arithmetic/double-double.js';
import type { FittedCurve } from './fitted-curve.js';

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
  const sums = weightedSums(x, y, w);
  const slope = divide(sums.xy, sums.xx);
  const residuals = sums.dx.map((dx, i) => subtract(sums.dy[i]!, multiply(slope, dx)));
  const scale = y.reduce((sum, value, i) => sum + w[i]! * value * value, 0);
  const rss = withoutNoise(sumOfWeightedSquares(w, residuals), scale);
  const nu = x.length - 2;
  const s2 = divide(rss, wide(nu));
  const regression = multiply(slope, sums.xy);
  const total = add(regression, rss);
  const varianceSlope = divide(s2, sums.xx);
  const perWeight = divide(wide(1), sums.w);
  const points = { x, y, weights: w, n: x.length };
  return {
    ...points,
    intercept: narrow(subtract(sums.yMean, multiply(slope, sums.xMean))),
    slope: narrow(slope),
    varianceIntercept: narrow(add(multiply(s2, perWeight), multiply(square(sums.xMean), varianceSlope))),
    varianceSlope: narrow(varianceSlope),
    covariance: -narrow(multiply(sums.xMean, varianceSlope)),
    residualStandardDeviation: narrow(squareRoot(s2)),
    degreesOfFreedom: nu,
    residuals: residuals.map(narrow),
    fitted: residuals.map((r, i) => narrow(subtract(wide(y[i]!), r))),
    leverages: sums.dx.map((dx, i) =>
      narrow(multiply(wide(w[i]!), add(perWeight, divide(square(dx), sums.xx)))),
    ),
    xMean: narrow(sums.xMean),
    yMean: narrow(sums.yMean),
    sumOfSquaresX: narrow(sums.xx),
    sumOfWeights: narrow(sums.w),
    regressionSumOfSquares: narrow(regression),
    residualSumOfSquares: narrow(rss),
    rSquared: narrow(total) === 0 ? 0 : narrow(divide(regression, total)),
    parameters: 2,
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

interface WeightedSums {
  readonly w: DoubleDouble;
  readonly xMean: DoubleDouble;
  readonly yMean: DoubleDouble;
  readonly dx: readonly DoubleDouble[];
  readonly dy: readonly DoubleDouble[];
  readonly xx: DoubleDouble;
  readonly xy: DoubleDouble;
}

function weightedSums(x: readonly number[], y: readonly number[], weights: readonly number[]): WeightedSums {
  const w = weights.map(wide);
  const total = w.reduce(add, zero);
  const xMean = divide(dot(w, x.map(wide)), total);
  const yMean = divide(dot(w, y.map(wide)), total);
  const dx = x.map((value) => subtract(wide(value), xMean));
  const dy = y.map((value) => subtract(wide(value), yMean));
  const wdx = dx.map((d, i) => multiply(w[i]!, d));
  return { w: total, xMean, yMean, dx, dy, xx: dot(wdx, dx), xy: dot(wdx, dy) };
}

/** Σ w·r². */
export function sumOfWeightedSquares(
  weights: readonly number[],
  residuals: readonly DoubleDouble[],
): DoubleDouble {
  let total = zero;
  residuals.forEach((r, i) => {
    total = add(total, multiply(wide(weights[i]!), square(r)));
  });
  return total;
}
