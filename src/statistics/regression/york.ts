import { InputError, requireFinite, requireNonNegative, requireSameLength } from '../../errors.js';
import { chiSquaredSurvival } from '../distributions/chi-squared.js';
import { type CentredPoints, centredPoints, slopeSettled } from './centred-points.js';
import { fitLine, requirePoints } from './line.js';
import { consistencyNotes, lineThroughCentre, type UncertainLineFit } from './uncertain-line.js';

/**
 * Straight line with uncertainties in both coordinates, each point independent of the others.
 *
 * Answers: which line do these points support when x is uncertain too, as with standards of stated uncertainty? Uncertainty
 * 0 in x is allowed. With every u(x) = 0 it is the weighted fit with known uncertainties.
 *
 * @param x n ≥ 3 values
 * @param y n responses
 * @param uX n standard uncertainties of x, at least 0
 * @param uY n standard uncertainties of y, at least 0; one of a pair must be above 0
 * @param correlations n correlations of the errors of x and y of one point, −1 to 1; 0 where absent
 * @returns line, covariance from the stated uncertainties, χ² with n − 2 degrees of freedom
 * @throws InputError lists of unequal length, an uncertainty below 0, a point without any, no convergence
 * @see York, Evensen, Martínez and De Basabe Delgado 2004, Am. J. Phys. 72, 367; ISO/TS 28037:2010, clauses 6 to 8
 * @example
 * york([1, 2, 3, 4], [2.1, 3.9, 6.2, 7.9], [0.1, 0.1, 0.1, 0.1], [0.2, 0.2, 0.2, 0.2]).slope // => 1.973152
 */
export function york(
  x: readonly number[],
  y: readonly number[],
  uX: readonly number[],
  uY: readonly number[],
  correlations: readonly number[] = x.map(() => 0),
): UncertainLineFit {
  requireYork(x, y, uX, uY, correlations);
  const vX = uX.map((u) => u * u);
  const vY = uY.map((u) => u * u);
  const vXY = correlations.map((r, i) => r * uX[i]! * uY[i]!);
  let slope = fitLine(x, y).slope;
  const points = centredPoints(x, y);
  let last = Number.POSITIVE_INFINITY;
  for (let iterations = 1; iterations <= 1000; iterations++) {
    const step = yorkStep(points.x, points.y, vX, vY, vXY, slope);
    const change = Math.abs(step.slope - slope);
    slope = step.slope;
    if (slopeSettled(change, last, slope, points.steepness)) {
      return yorkResult(points, yorkStep(points.x, points.y, vX, vY, vXY, slope), slope, iterations);
    }
    last = change;
  }
  throw new InputError('york: the slope did not settle in 1000 iterations; check the uncertainties');
}

function requireYork(
  x: readonly number[],
  y: readonly number[],
  uX: readonly number[],
  uY: readonly number[],
  correlations: readonly number[],
): void {
  requirePoints(x, y, undefined);
  for (const [list, name] of [
    [uX, 'u(x)'],
    [uY, 'u(y)'],
    [correlations, 'correlations'],
  ] as const) {
    requireSameLength(x, 'x', list, name);
    requireFinite(list, name);
  }
  for (let i = 0; i < x.length; i++) {
    requireNonNegative(uX[i]!, `u(x) ${i + 1}`);
    requireNonNegative(uY[i]!, `u(y) ${i + 1}`);
    if (uX[i] === 0 && uY[i] === 0)
      throw new InputError(`point ${i + 1}: found no uncertainty, expected one above 0`);
    if (Math.abs(correlations[i]!) > 1) {
      throw new InputError(`correlation ${i + 1}: found ${correlations[i]}, expected −1 to 1`);
    }
  }
}

interface YorkStep {
  readonly slope: number;
  readonly weights: readonly number[];
  readonly xMean: number;
  readonly yMean: number;
  /** Distances of the adjusted x from xMean. */
  readonly beta: readonly number[];
}

function yorkStep(
  x: readonly number[],
  y: readonly number[],
  vX: readonly number[],
  vY: readonly number[],
  vXY: readonly number[],
  slope: number,
): YorkStep {
  const weights = x.map((_, i) => {
    const variance = vY[i]! + slope * slope * vX[i]! - 2 * slope * vXY[i]!;
    if (!(variance > 0)) throw new InputError(`point ${i + 1}: its uncertainties cancel along the line`);
    return 1 / variance;
  });
  const total = weights.reduce((a, b) => a + b, 0);
  const xMean = weights.reduce((a, w, i) => a + w * x[i]!, 0) / total;
  const yMean = weights.reduce((a, w, i) => a + w * y[i]!, 0) / total;
  let top = 0;
  let bottom = 0;
  const beta = x.map((value, i) => {
    const u = value - xMean;
    const v = y[i]! - yMean;
    const b = weights[i]! * (u * vY[i]! + slope * v * vX[i]! - (slope * u + v) * vXY[i]!);
    top += weights[i]! * b * v;
    bottom += weights[i]! * b * u;
    return b;
  });
  if (bottom === 0) throw new InputError('york: the adjusted x do not spread; check the uncertainties');
  return { slope: top / bottom, weights, xMean, yMean, beta };
}

function yorkResult(
  points: CentredPoints,
  step: YorkStep,
  slope: number,
  iterations: number,
): UncertainLineFit {
  const { x, y, xOrigin, yOrigin } = points;
  const { weights, xMean, yMean, beta } = step;
  const total = weights.reduce((a, b) => a + b, 0);
  const betaMean = weights.reduce((a, w, i) => a + w * beta[i]!, 0) / total;
  const spread = weights.reduce((a, w, i) => a + w * (beta[i]! - betaMean) ** 2, 0);
  const chiSquared = weights.reduce((a, w, i) => a + w * (y[i]! - yMean - slope * (x[i]! - xMean)) ** 2, 0);
  const degreesOfFreedom = x.length - 2;
  const pValue = chiSquaredSurvival(chiSquared, degreesOfFreedom);
  return {
    ...lineThroughCentre({
      xCentre: xOrigin + (xMean + betaMean),
      yCentre: yOrigin + (yMean + slope * betaMean),
      slope,
      varianceCentre: 1 / total,
      varianceSlope: 1 / spread,
    }),
    chiSquared,
    degreesOfFreedom,
    pValue,
    adjustedX: beta.map((b) => xOrigin + (xMean + b)),
    n: x.length,
    iterations,
    method: 'both-axes least squares for independent points (York 2004)',
    notes: consistencyNotes(pValue),
  };
}
