import { InputError, requirePositive } from '../../errors.js';
import { CompensatedSum } from '../descriptive/compensated-sum.js';
import { mean } from '../descriptive/mean.js';
import { standardDeviation } from '../descriptive/standard-deviation.js';
import { studentTQuantile } from '../distributions/student-t.js';
import type { Interval } from '../interval.js';
import { type CentredPoints, centredPoints } from './centred-points.js';
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
  const points = centredPoints(x, y);
  const whole = demingLine(points, varianceRatio);
  const { slope } = whole;
  const intercept = interceptAtOrigin(points, whole);
  const slopes: number[] = [];
  const intercepts: number[] = [];
  for (let i = 0; i < n; i++) {
    const part = demingLine(points, varianceRatio, i);
    slopes.push((n - 1) * (slope - part.slope));
    // Differences of intercepts, taken at the centre: at the origin they would drown in the offset.
    const difference = whole.height - part.height - (slope - part.slope) * points.xOrigin;
    intercepts.push((n - 1) * difference);
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

/** A line about the centre of the points: slope, and height at the centre. */
interface CentredLine {
  readonly slope: number;
  readonly height: number;
}

/** The line of all points, or of all but one. Sums are formed anew: taking one point off would cancel a far one's share. */
function demingLine({ x, y }: CentredPoints, ratio: number, leftOut = -1): CentredLine {
  const rows = [...x.keys()].filter((i) => i !== leftOut);
  const xMean = mean(rows.map((i) => x[i]!));
  const yMean = mean(rows.map((i) => y[i]!));
  let [xx, yy, xy] = [0, 0, 0];
  for (const i of rows) {
    const dx = x[i]! - xMean;
    const dy = y[i]! - yMean;
    xx += dx * dx;
    yy += dy * dy;
    xy += dx * dy;
  }
  const slope = demingSlope(xx, yy, xy, ratio);
  return { slope, height: yMean - slope * xMean };
}

function demingSlope(xx: number, yy: number, xy: number, ratio: number): number {
  if (xy === 0) throw new InputError('deming: x and y do not vary together; the slope is undefined');
  const difference = yy - ratio * xx;
  const root = Math.hypot(difference, 2 * Math.sqrt(ratio) * xy);
  // Two forms of one root: the one without cancellation is used.
  return difference >= 0 ? (difference + root) / (2 * xy) : (2 * ratio * xy) / (root - difference);
}

function interceptAtOrigin({ xOrigin, yOrigin }: CentredPoints, { slope, height }: CentredLine): number {
  return new CompensatedSum().add(yOrigin).add(height).addProduct(-slope, xOrigin).value();
}

function standardErrorOfMean(values: readonly number[]): number {
  return standardDeviation(values) / Math.sqrt(values.length);
}
