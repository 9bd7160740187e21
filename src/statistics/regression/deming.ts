import { InputError, requirePositive } from '../../errors.js';
import { studentTQuantile } from '../distributions/student-t.js';
import type { Interval } from '../interval.js';
import { requirePoints } from './line.js';

/** Deming regression of one method on another, with jackknife standard errors. */
export interface DemingFit {
  readonly intercept: number;
  readonly slope: number;
  readonly standardErrorIntercept: number;
  readonly standardErrorSlope: number;
  readonly interceptInterval: Interval;
  readonly slopeInterval: Interval;
  readonly varianceRatio: number;
  readonly degreesOfFreedom: number;
  readonly n: number;
  readonly method: string;
  readonly notes: readonly string[];
}

/**
 * Deming regression: a straight line between two methods that both err, with a constant ratio of their error variances.
 *
 * Answers: do two methods agree over a range, beyond a constant and a proportional difference? For uncertainties that differ
 * from point to point see `york`.
 *
 * @param x n ≥ 4 results by one method
 * @param y n results by the other
 * @param varianceRatio error variance of y over error variance of x; default 1
 * @param coverage coverage probability of the intervals (jackknife, t with n − 2 degrees of freedom); default 0.95
 * @throws InputError too few points, no covariance between x and y, ratio not above 0, a value that is not finite
 * @see Linnet 1993, Clin. Chem. 39, 424
 * @example
 * deming([1, 2, 3, 4], [1.1, 1.9, 3.2, 3.9]).slope // => 0.976318
 */
export function deming(
  x: readonly number[],
  y: readonly number[],
  varianceRatio = 1,
  coverage = 0.95,
): DemingFit {
  requirePoints(x, y, undefined, 4);
  requirePositive(varianceRatio, 'variance ratio');
  const n = x.length;
  const whole = centredSums(x, y);
  const { intercept, slope } = demingLine(whole, varianceRatio);
  const slopes: number[] = [];
  const intercepts: number[] = [];
  for (let i = 0; i < n; i++) {
    const part = demingLine(withoutPoint(whole, x[i]!, y[i]!), varianceRatio);
    slopes.push(n * slope - (n - 1) * part.slope);
    intercepts.push(n * intercept - (n - 1) * part.intercept);
  }
  const standardErrorSlope = standardErrorOfMean(slopes);
  const standardErrorIntercept = standardErrorOfMean(intercepts);
  const t = studentTQuantile((1 + coverage) / 2, n - 2);
  const around = (value: number, u: number): Interval => ({
    low: value - t * u,
    high: value + t * u,
    coverage,
  });
  return {
    intercept,
    slope,
    standardErrorIntercept,
    standardErrorSlope,
    interceptInterval: around(intercept, standardErrorIntercept),
    slopeInterval: around(slope, standardErrorSlope),
    varianceRatio,
    degreesOfFreedom: n - 2,
    n,
    method: 'Deming regression, jackknife standard errors',
    notes: [],
  };
}

interface CentredSums {
  readonly n: number;
  readonly xMean: number;
  readonly yMean: number;
  readonly xx: number;
  readonly yy: number;
  readonly xy: number;
}

function centredSums(x: readonly number[], y: readonly number[]): CentredSums {
  const n = x.length;
  const xMean = x.reduce((a, b) => a + b, 0) / n;
  const yMean = y.reduce((a, b) => a + b, 0) / n;
  let [xx, yy, xy] = [0, 0, 0];
  for (let i = 0; i < n; i++) {
    const dx = x[i]! - xMean;
    const dy = y[i]! - yMean;
    xx += dx * dx;
    yy += dy * dy;
    xy += dx * dy;
  }
  return { n, xMean, yMean, xx, yy, xy };
}

function withoutPoint(sums: CentredSums, x: number, y: number): CentredSums {
  const { n } = sums;
  const dx = x - sums.xMean;
  const dy = y - sums.yMean;
  const factor = n / (n - 1);
  return {
    n: n - 1,
    xMean: sums.xMean - dx / (n - 1),
    yMean: sums.yMean - dy / (n - 1),
    xx: sums.xx - factor * dx * dx,
    yy: sums.yy - factor * dy * dy,
    xy: sums.xy - factor * dx * dy,
  };
}

function demingLine(sums: CentredSums, ratio: number): { intercept: number; slope: number } {
  if (sums.xy === 0) throw new InputError('deming: x and y do not vary together; the slope is undefined');
  const difference = sums.yy - ratio * sums.xx;
  const root = Math.hypot(difference, 2 * Math.sqrt(ratio) * sums.xy);
  // Two forms of one root: the one without cancellation is used.
  const slope =
    difference >= 0 ? (difference + root) / (2 * sums.xy) : (2 * ratio * sums.xy) / (root - difference);
  return { slope, intercept: sums.yMean - slope * sums.xMean };
}

function standardErrorOfMean(values: readonly number[]): number {
  const n = values.length;
  const mean = values.reduce((a, b) => a + b, 0) / n;
  return Math.sqrt(values.reduce((a, v) => a + (v - mean) ** 2, 0) / (n - 1) / n);
}
