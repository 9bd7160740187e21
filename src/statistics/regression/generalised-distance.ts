import { InputError, requireFinite } from '../../errors.js';
import { backward, choleskyFactor, forward, product } from '../arithmetic/cholesky.js';
import { chiSquaredSurvival } from '../distributions/chi-squared.js';
import { type CentredPoints, centredPoints, slopeSettled } from './centred-points.js';
import { fitLine, requirePoints } from './line.js';
import { consistencyNotes, lineThroughCentre, type UncertainLineFit } from './uncertain-line.js';

/** Covariances of the coordinates of n points, each an n × n matrix. */
export interface PointCovariance {
  readonly xx: readonly (readonly number[])[];
  readonly yy: readonly (readonly number[])[];
  /** Entry [i][j] is the covariance of x_i and y_j; 0 where absent. */
  readonly xy?: readonly (readonly number[])[];
}

/**
 * Straight line by generalised distance regression: any covariance between the coordinates of the points, as between
 * standards diluted from one stock solution.
 *
 * @param x n ≥ 3 values
 * @param y n responses
 * @param covariance covariance matrices of the coordinates; along the line their combination must be positive definite
 * @returns line, covariance from the stated uncertainties, χ² with n − 2 degrees of freedom
 * @throws InputError matrices of wrong size or not positive definite along the line, no convergence
 * @see ISO/TS 28037:2010, clauses 7 to 10
 * @example
 * const variances = (u) => u.map((value, i) => u.map((_, j) => (i === j ? value ** 2 : 0)));
 * generalisedDistanceFit([1, 2, 3, 4], [2.1, 3.9, 6.2, 7.9], { xx: variances([0.1, 0.1, 0.1, 0.1]), yy: variances([0.2, 0.2, 0.2, 0.2]) }).slope // => 1.973152
 */
export function generalisedDistanceFit(
  x: readonly number[],
  y: readonly number[],
  covariance: PointCovariance,
): UncertainLineFit {
  requirePoints(x, y, undefined);
  const n = x.length;
  const xy = covariance.xy ?? x.map(() => x.map(() => 0));
  for (const [matrix, name] of [
    [covariance.xx, 'covariance of x'],
    [covariance.yy, 'covariance of y'],
    [xy, 'covariance of x with y'],
  ] as const) {
    if (matrix.length !== n || matrix.some((row) => row.length !== n)) {
      throw new InputError(`${name}: expected a matrix of ${n} × ${n}`);
    }
    matrix.forEach((row, i) => {
      requireFinite(row, `${name}, row ${i + 1}`);
    });
  }
  const points = centredPoints(x, y);
  const start = fitLine(points.x, points.y);
  const step = (intercept: number, slope: number) =>
    distanceStep(points.x, points.y, { ...covariance, xy }, intercept, slope);
  let state = step(start.intercept, start.slope);
  let last = Number.POSITIVE_INFINITY;
  for (let iterations = 1; iterations <= 1000; iterations++) {
    const next = step(state.intercept, state.slope);
    const change = Math.abs(next.slope - state.slope);
    state = next;
    if (slopeSettled(change, last, next.slope, points.steepness)) {
      return distanceResult(state, points, iterations);
    }
    last = change;
  }
  throw new InputError('generalised distance regression: the slope did not settle in 1000 iterations');
}

interface DistanceState {
  readonly intercept: number;
  readonly slope: number;
  readonly xCentre: number;
  readonly yCentre: number;
  readonly varianceCentre: number;
  readonly varianceSlope: number;
  readonly chiSquared: number;
  readonly adjustedX: readonly number[];
}

/** One Gauss–Newton step: x is adjusted to the line, then the line is fitted to the adjusted x by generalised least squares. */
function distanceStep(
  x: readonly number[],
  y: readonly number[],
  covariance: Required<PointCovariance>,
  intercept: number,
  slope: number,
): DistanceState {
  const { xx, yy, xy } = covariance;
  const v = yy.map((row, i) =>
    row.map((value, j) => value + slope * slope * xx[i]![j]! - slope * (xy[i]![j]! + xy[j]![i]!)),
  );
  const factor = choleskyFactor(v);
  const error = y.map((value, i) => value - intercept - slope * x[i]!);
  const weighted = backward(factor, forward(factor, error));
  const adjustedX = x.map((value, i) => {
    let shift = 0;
    for (let j = 0; j < x.length; j++) shift += (slope * xx[i]![j]! - xy[i]![j]!) * weighted[j]!;
    return value + shift;
  });
  const ones = forward(
    factor,
    x.map(() => 1),
  );
  const abscissae = forward(factor, adjustedX);
  const target = forward(
    factor,
    y.map((value, i) => value - slope * (x[i]! - adjustedX[i]!)),
  );
  const aa = product(ones, ones);
  const centre = product(ones, abscissae) / aa;
  const centred = abscissae.map((value, i) => value - centre * ones[i]!);
  const spread = product(centred, centred);
  if (!(spread > 0)) throw new InputError('x: the adjusted values do not spread; check the covariances');
  const newSlope = product(centred, target) / spread;
  const yCentre = product(ones, target) / aa;
  const whitened = forward(factor, error);
  return {
    intercept: yCentre - newSlope * centre,
    slope: newSlope,
    xCentre: centre,
    yCentre,
    varianceCentre: 1 / aa,
    varianceSlope: 1 / spread,
    chiSquared: product(whitened, whitened),
    adjustedX,
  };
}

function distanceResult(state: DistanceState, points: CentredPoints, iterations: number): UncertainLineFit {
  const n = points.x.length;
  const pValue = chiSquaredSurvival(state.chiSquared, n - 2);
  const { slope, varianceSlope, varianceCentre } = state;
  return {
    ...lineThroughCentre({
      xCentre: points.xOrigin + state.xCentre,
      yCentre: points.yOrigin + state.yCentre,
      slope,
      varianceCentre,
      varianceSlope,
    }),
    chiSquared: state.chiSquared,
    degreesOfFreedom: n - 2,
    pValue,
    adjustedX: state.adjustedX.map((value) => points.xOrigin + value),
    n,
    iterations,
    method: 'generalised distance regression',
    notes: consistencyNotes(pValue),
  };
}
