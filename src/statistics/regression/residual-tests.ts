import { InputError } from '../../errors.js';
import { chiSquaredSurvival } from '../distributions/chi-squared.js';
import { studentTSurvival } from '../distributions/student-t.js';
import type { NormalityTest } from '../screening/normality-test.js';
import { type RunsTest, runsTest } from '../screening/runs-test.js';
import { shapiroWilk } from '../screening/shapiro-wilk.js';
import type { FittedCurve } from './fitted-curve.js';
import { fitLine } from './line.js';
import { residualDiagnostics } from './residual-diagnostics.js';

/** What the residuals of a fit say against its assumptions. */
export interface ResidualTests {
  /** The point farthest from the curve, with the probability of so large a studentised residual among n. */
  readonly farthest: { readonly index: number; readonly studentised: number; readonly pValue: number };
  /** Does the spread change with the fitted value? Koenker's form of the score test, one degree of freedom. */
  readonly spread: { readonly chiSquared: number; readonly pValue: number };
  /** Runs of residuals on one side of their median, in the order of x: few runs speak of curvature. */
  readonly runs: RunsTest;
  /** Shapiro–Wilk test of the standardised residuals. */
  readonly normality: NormalityTest;
  readonly method: string;
  readonly notes: readonly string[];
}

/**
 * Tests of the residuals of a fit: outlier, spread that grows, systematic pattern, normality.
 *
 * Four looks at the same residuals: a single p value below 0.05 is no surprise. Look at the plot as well.
 *
 * @param fit line or polynomial with at least 6 points
 * @returns the four tests; p values are not adjusted for each other
 * @throws InputError fewer than 6 points, a perfect fit, a point of leverage 1
 * @see Cook and Weisberg, Residuals and Influence in Regression, 1982; Koenker 1981, J. Econometrics 17, 107
 * @example
 * const points = { x: [1, 2, 3, 4, 5, 6], weights: [1, 1, 1, 1, 1, 1], fitted: [1, 2, 3, 4, 5, 6], n: 6, parameters: 1 };
 * const residuals = [0.1, -0.2, 0.1, 0.2, -0.3, 0.1];
 * const spread = { leverages: [0.01, 0.04, 0.1, 0.18, 0.27, 0.4], residualSumOfSquares: 0.2, residualStandardDeviation: 0.2 };
 * residualTests({ ...points, residuals, ...spread, degreesOfFreedom: 5 }).farthest.index // => 4
 */
export function residualTests(fit: FittedCurve): ResidualTests {
  if (fit.n < 6) throw new InputError(`points: found ${fit.n}, expected at least 6`);
  const points = residualDiagnostics(fit);
  const index = points.reduce(
    (best, point, i) => (Math.abs(point.studentised) > Math.abs(points[best]!.studentised) ? i : best),
    0,
  );
  const { studentised } = points[index]!;
  const tail = studentTSurvival(Math.abs(studentised), fit.degreesOfFreedom - 1);
  const order = fit.x.map((_, i) => i).sort((a, b) => fit.x[a]! - fit.x[b]! || a - b);
  return {
    farthest: { index, studentised, pValue: Math.min(1, 2 * fit.n * tail) },
    spread: spreadTest(fit),
    runs: runsTest(order.map((i) => fit.residuals[i]!)),
    normality: shapiroWilk(points.map((point) => point.standardised)),
    method: `residual tests of ${fit.method}`,
    notes: [],
  };
}

/** n·R² of the squared weighted residuals on the fitted values. */
function spreadTest(fit: FittedCurve): { chiSquared: number; pValue: number } {
  if (fit.fitted.every((value) => value === fit.fitted[0])) return { chiSquared: 0, pValue: 1 };
  const squares = fit.residuals.map((residual, i) => fit.weights[i]! * residual * residual);
  const chiSquared = fit.n * fitLine(fit.fitted, squares).rSquared;
  return { chiSquared, pValue: chiSquaredSurvival(chiSquared, 1) };
}
