import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deming } from '../../../src/statistics/regression/deming.js';
import { generalisedDistanceFit } from '../../../src/statistics/regression/generalised-distance.js';
import { forwardEvaluation, inverseEvaluation } from '../../../src/statistics/regression/line-evaluation.js';
import { fitLineThroughOrigin } from '../../../src/statistics/regression/line-through-origin.js';
import { passingBablok } from '../../../src/statistics/regression/passing-bablok.js';
import type { UncertainLineFit } from '../../../src/statistics/regression/uncertain-line.js';
import { york } from '../../../src/statistics/regression/york.js';
import { exactLeastSquares } from '../../support/exact-least-squares.js';
import {
  type ExactCovariance,
  exactDeming,
  exactDistance,
  exactPassingBablokSlope,
} from '../../support/exact-lines.js';

/** Points about a line of slope 2, moved 10^digits from the origin, exactly representable; x rises by at least 1/8. */
const points = (least: number, most: number) =>
  fc
    .tuple(
      fc.array(fc.tuple(fc.integer({ min: 1, max: 90 }), fc.integer({ min: -40, max: 40 })), {
        minLength: least,
        maxLength: most,
      }),
      fc.integer({ min: 0, max: 11 }),
    )
    .map(([steps, digits]) => {
      let at = 0;
      const local = steps.map(([step, noise]) => {
        at += step / 8;
        return { x: at, y: 2 * at + noise / 64 };
      });
      return {
        digits,
        x: local.map((p) => 10 ** digits + p.x),
        y: local.map((p) => 3 * 10 ** digits + p.y),
      };
    });
const share = fc.integer({ min: 1, max: 8 }).map((k) => k / 16);
const runs = { numRuns: 60 };

describe('lines between two erring coordinates on hostile data, against exact arithmetic', () => {
  it('Deming: line and jackknife standard errors, whatever the distance from the origin', () => {
    fc.assert(
      fc.property(points(5, 9), fc.constantFrom(0.25, 1, 3), ({ x, y }, ratio) => {
        const expected = exactDeming(x, y, ratio);
        const found = deming(x, y, ratio);
        expect(found.slope).toAgreeWithin(expected.slope, 1e-14);
        expect(found.standardErrorSlope).toAgreeWithin(expected.standardErrorSlope, 1e-10);
        expect(found.standardErrorIntercept).toAgreeWithin(expected.standardErrorIntercept, 1e-10);
        // The line is fitted about the centre of the points; the last bits of the slope count over the way to the origin.
        expect(Math.abs(found.intercept - expected.intercept)).toBeLessThanOrEqual(
          4e-15 * Math.max(...y.map(Math.abs)),
        );
      }),
      runs,
    );
  });

  it('Deming: one far point does not spoil the lines without it', () => {
    const x = [0, 1, 2, 3, 4, 1e9];
    const y = [0.125, 0.875, 2.25, 2.75, 4.125, 1e9 + 16];
    const expected = exactDeming(x, y, 1);
    const found = deming(x, y, 1);
    expect(found.slope).toAgreeWithin(expected.slope, 1e-15);
    expect(found.standardErrorSlope).toAgreeWithin(expected.standardErrorSlope, 1e-6);
  });

  it('Passing–Bablok: the median slope', () => {
    fc.assert(
      fc.property(points(10, 13), ({ x, y }) => {
        expect(passingBablok(x, y).slope).toAgreeWithin(exactPassingBablokSlope(x, y), 3e-16);
      }),
      runs,
    );
  });

  it('through the origin: slope and its variance, plain and weighted', () => {
    fc.assert(
      fc.property(points(2, 9), fc.boolean(), ({ x, y }, weighted) => {
        const weights = x.map((_, i) => (weighted ? (i + 1) / 4 : 1));
        const expected = exactLeastSquares([x], y, weights);
        const found = fitLineThroughOrigin(x, y, weights);
        expect(found.slope).toAgreeWithin(expected.coefficients[0]!, 1e-15);
        expect(found.residualSumOfSquares).toAgreeWithin(expected.residualSumOfSquares, 1e-12);
        expect(found.varianceSlope).toAgreeWithin(expected.variances[0]!, 1e-12);
      }),
      runs,
    );
  });

  it('York: slope, χ², heights and variances of points with correlated errors', () => {
    fc.assert(
      fc.property(points(3, 6), fc.array(fc.tuple(share, share, share), { minLength: 6 }), ({ x, y }, u) => {
        const [uX, uY, r] = [0, 1, 2].map((k) => x.map((_, i) => u[i]![k]!));
        const diagonal = (f: (i: number) => number) =>
          x.map((_, i) => x.map((__, j) => (i === j ? f(i) : 0)));
        expectDistanceFit(york(x, y, uX!, uY!, r), x, y, {
          xx: diagonal((i) => uX![i]! ** 2),
          yy: diagonal((i) => uY![i]! ** 2),
          xy: diagonal((i) => r![i]! * uX![i]! * uY![i]!),
        });
      }),
      { ...runs, numRuns: 30 },
    );
  });

  it('generalised distance: the same where the errors of all points are correlated', () => {
    fc.assert(
      fc.property(
        points(3, 5),
        fc.array(fc.tuple(share, share), { minLength: 5 }),
        share,
        ({ x, y }, u, c) => {
          const matrix = (own: (i: number) => number, common: number) =>
            x.map((_, i) => x.map((__, j) => common + (i === j ? own(i) : 0)));
          const covariance = {
            xx: matrix((i) => u[i]![0]! ** 2, c / 16),
            yy: matrix((i) => u[i]![1]! ** 2, c / 32),
            xy: matrix((i) => (u[i]![0]! * u[i]![1]!) / 4, 0),
          };
          expectDistanceFit(generalisedDistanceFit(x, y, covariance), x, y, covariance);
        },
      ),
      { ...runs, numRuns: 30 },
    );
  });

  it('find the horizontal line of symmetrical points, where the slope is 0 but for rounding', () => {
    const y = [1.13, 1.4, 0.87, 0.91, 0.91, 0.87, 1.4, 1.13];
    const x = y.map((_, i) => 0.1 * i);
    const u = [0.05, 0.06, 0.07, 0.08, 0.08, 0.07, 0.06, 0.05];
    const diagonal = u.map((value, i) => u.map((_, j) => (i === j ? value ** 2 : 0)));
    for (const fit of [york(x, y, u, u), generalisedDistanceFit(x, y, { xx: diagonal, yy: diagonal })])
      expect(Math.abs(fit.slope)).toBeLessThan(1e-14);
  });

  it('are read far from the origin as they are near it', () => {
    const x = [0.5, 1.25, 2, 3.5, 4, 5.75];
    const y = [1.25, 2.5, 4.125, 6.75, 8.25, 11.5];
    const u = x.map(() => 0.125);
    const near = york(x, y, u, u);
    const offset = 2 ** 30;
    const far = york(
      x.map((v) => v + offset),
      y.map((v) => v + offset),
      u,
      u,
    );
    expect(inverseEvaluation(far, offset + 5, 0.125).standardUncertainty).toAgreeWithin(
      inverseEvaluation(near, 5, 0.125).standardUncertainty,
      1e-7,
    );
    expect(forwardEvaluation(far, offset + 2, 0.125).standardUncertainty).toAgreeWithin(
      forwardEvaluation(near, 2, 0.125).standardUncertainty,
      1e-7,
    );
    expect(forwardEvaluation(far, offset + 2, 0).value - offset).toAgreeWithin(
      forwardEvaluation(near, 2, 0).value,
      1e-6,
    );
  });
});

/** The slope lies within 1e-13 of where the exact χ² is least, and the rest is what exact arithmetic gives there. */
function expectDistanceFit(
  fit: UncertainLineFit,
  x: readonly number[],
  y: readonly number[],
  covariance: ExactCovariance,
): void {
  const reach = 1e-13 * Math.abs(fit.slope);
  expect(exactDistance(x, y, covariance, fit.slope - reach).derivativeSign).toBe(-1);
  expect(exactDistance(x, y, covariance, fit.slope + reach).derivativeSign).toBe(1);
  const expected = exactDistance(x, y, covariance, fit.slope);
  expect(fit.chiSquared).toAgreeWithin(expected.chiSquared, 1e-9);
  expect(fit.varianceCentre).toAgreeWithin(expected.varianceCentre, 1e-13);
  expect(fit.varianceSlope).toAgreeWithin(expected.varianceSlope, 1e-12);
  expect(fit.xCentre).toAgreeWithin(expected.xCentre, 1e-14);
  expect(fit.yCentre).toAgreeWithin(expected.yCentre, 1e-14);
  expect(Math.abs(fit.intercept - expected.intercept)).toBeLessThanOrEqual(4e-15 * Math.abs(y[0]!) * 2);
  fit.adjustedX.forEach((value, i) => {
    expect(value).toAgreeWithin(expected.adjustedX[i]!, 1e-13);
  });
}
