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
  const w = weights ?? x.map(() => 1);
  // Lists of whole and of other numbers are told apart by the machine; columns of one kind keep the loops fast.
  const xs = new Float64Array(x);
  const ys = new Float64Array(y);
  const ws = new Float64Array(w);
  requirePoints(xs, ys, weights && ws);
  if (areEqual(xs)) {
    throw new InputError('x: found all values equal, expected at least two different ones');
  }
  const sums = lineSums(xs, ys, ws);
  const { slope, residuals } = sums;
  const rss = withoutNoise(sums.residual, weightedSquares(ys, ws));
  const nu = xs.length - 2;
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
    fitted: fittedTo(ys, residuals),
    leverages: leveragesOf(xs, ws, { xMean, sumOfWeights, sumOfSquaresX }),
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
    n: xs.length,
    method: weights ? 'weighted least squares' : 'ordinary least squares',
    notes: narrow(rss) === 0 ? ['Every point lies on the line: the residual standard deviation is 0.'] : [],
  };
}

function areEqual(values: Float64Array): boolean {
  for (let i = 1; i < values.length; i++) if (values[i] !== values[0]) return false;
  return true;
}

function weightedSquares(values: Float64Array, w: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += w[i]! * values[i]! * values[i]!;
  return sum;
}

function fittedTo(y: Float64Array, residuals: readonly number[]): number[] {
  const fitted: number[] = [];
  for (let i = 0; i < y.length; i++) fitted.push(y[i]! - residuals[i]!);
  return fitted;
}

function leveragesOf(
  x: Float64Array,
  w: Float64Array,
  line: Pick<LineFit, 'xMean' | 'sumOfWeights' | 'sumOfSquaresX'>,
): number[] {
  const leverages: number[] = [];
  for (let i = 0; i < x.length; i++) {
    leverages.push(w[i]! * (1 / line.sumOfWeights + (x[i]! - line.xMean) ** 2 / line.sumOfSquaresX));
  }
  return leverages;
}

/** @throws InputError points or weights that no fit can use */
export function requirePoints(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  weights: ArrayLike<number> | undefined,
  least = 3,
): void {
  requireFinite(x, 'x', least);
  requireSameLength(x, 'x', y, 'y');
  requireFinite(y, 'y', least);
  if (!weights) return;
  requireSameLength(x, 'x', weights, 'weights');
  for (let i = 0; i < weights.length; i++) {
    // The name is only made where it is needed.
    if (!(weights[i]! > 0 && weights[i]! < Infinity)) requirePositive(weights[i]!, `weight ${i + 1}`);
  }
}
