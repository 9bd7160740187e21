import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { chiSquaredQuantile } from '../../../src/statistics/distributions/chi-squared.js';
import { generalisedDistanceFit } from '../../../src/statistics/regression/generalised-distance.js';
import { fitLine } from '../../../src/statistics/regression/line.js';
import { forwardEvaluation, inverseEvaluation } from '../../../src/statistics/regression/line-evaluation.js';
import { york } from '../../../src/statistics/regression/york.js';
import { randomStream } from '../../../src/uncertainty/random-stream.js';
import { type PublishedExample, readReference } from '../../support/reference-sets.js';

const diagonal = (u: readonly number[]) => u.map((value, i) => u.map((_, j) => (i === j ? value ** 2 : 0)));

describe('lines with uncertainty in both coordinates', () => {
  // York et al. 2004, data of Pearson 1901, weights of York 1966: figures remembered and recomputed.
  it('York: gives the published line, its uncertainties and χ²', () => {
    const { inputs, published } =
      readReference<
        PublishedExample<{ X: number[]; Y: number[]; wX: number[]; wY: number[] }, Record<string, string>>
      >('statistics/york-pearson');
    const u = (weights: number[]) => weights.map((w) => 1 / Math.sqrt(w));
    const fit = york(inputs.X, inputs.Y, u(inputs.wX), u(inputs.wY));
    expect(fit.slope).toRoundTo(published.slope!);
    expect(fit.intercept).toRoundTo(published.intercept!);
    expect(Math.sqrt(fit.varianceSlope)).toRoundTo(published.u_slope!);
    expect(Math.sqrt(fit.varianceIntercept)).toRoundTo(published.u_intercept!);
    expect(fit.chiSquared).toRoundTo(published.chi2!);
    expect(fit.chiSquared / fit.degreesOfFreedom).toRoundTo(published.chi2_per_dof!);
  });

  // ISO/TS 28037:2010, clause 7 (clause from memory): figures remembered and recomputed.
  it('generalised distance regression: gives the example of the standard', () => {
    const { inputs, published } = readReference<
      PublishedExample<{ x: number[]; y: number[]; u_x: number[]; u_y: number[] }, Record<string, string>>
    >('statistics/iso28037-generalised-distance');
    const fits = [
      generalisedDistanceFit(inputs.x, inputs.y, { xx: diagonal(inputs.u_x), yy: diagonal(inputs.u_y) }),
      york(inputs.x, inputs.y, inputs.u_x, inputs.u_y),
    ];
    for (const fit of fits) {
      expect(fit.intercept).toRoundTo(published.a!);
      expect(fit.slope).toRoundTo(published.b!);
      expect(Math.sqrt(fit.varianceIntercept)).toRoundTo(published.u_a!);
      expect(Math.sqrt(fit.varianceSlope)).toRoundTo(published.u_b!);
      expect(fit.covariance).toRoundTo(published.cov_ab!);
      expect(fit.chiSquared).toRoundTo(published.chi2!);
      expect(chiSquaredQuantile(0.95, fit.degreesOfFreedom)).toRoundTo(published.chi2_95!);
      expect(fit.notes).toEqual([]);
    }
  });

  // ISO/TS 28037:2010, clauses 6 and 11 (clauses from memory): figures remembered and recomputed.
  it('known equal uncertainties of y: gives line, χ², inverse and forward evaluation of the standard', () => {
    const { inputs, published } = readReference<
      PublishedExample<
        {
          x: number[];
          y: number[];
          u_y: number;
          inverse: { y0: number; u_y0: number };
          forward: { x: number; u_x: number };
        },
        Record<string, string>
      >
    >('statistics/iso28037-equal-weights');
    const zero = inputs.x.map(() => 0);
    const fit = york(
      inputs.x,
      inputs.y,
      zero,
      inputs.x.map(() => inputs.u_y),
    );
    expect(fit.intercept).toRoundTo(published.a!);
    expect(fit.slope).toRoundTo(published.b!);
    expect(Math.sqrt(fit.varianceIntercept)).toRoundTo(published.u_a!);
    expect(Math.sqrt(fit.varianceSlope)).toRoundTo(published.u_b!);
    expect(fit.covariance).toRoundTo(published.cov_ab!);
    expect(fit.chiSquared).toRoundTo(published.chi2!);
    expect(fit.degreesOfFreedom).toBe(Number(published.nu));
    const inverse = inverseEvaluation(fit, inputs.inverse.y0, inputs.inverse.u_y0);
    expect(inverse.value).toRoundTo(published.x0!);
    expect(inverse.standardUncertainty).toRoundTo(published.u_x0!);
    const forward = forwardEvaluation(fit, inputs.forward.x, inputs.forward.u_x);
    // By hand from the line: 1.8667 + 1.7571·3.5 = 8.0167; u² = u²(a) + 2·3.5·cov + 3.5²·u²(b) + b²·0.2².
    expect(forward.value).toAgreeWithin(8.01666666667, 1e-11);
    expect(forward.standardUncertainty).toAgreeWithin(0.406409531732, 1e-11);
  });

  it('is the weighted fit where x is exact, and turns round when the axes are exchanged', () => {
    const x = [1, 2, 3, 4, 5];
    const y = [2.2, 3.9, 6.1, 8.2, 9.7];
    const u = [0.1, 0.2, 0.1, 0.3, 0.2];
    const zero = u.map(() => 0);
    const weighted = fitLine(
      x,
      y,
      u.map((v) => v ** -2),
    );
    const exact = york(x, y, zero, u);
    expect(exact.slope).toAgreeWithin(weighted.slope, 1e-13);
    expect(exact.varianceSlope).toAgreeWithin(1 / weighted.sumOfSquaresX, 1e-13);
    const there = york(x, y, u, u, [0.2, 0.1, -0.3, 0, 0.5]);
    const back = york(y, x, u, u, [0.2, 0.1, -0.3, 0, 0.5]);
    expect(back.slope).toAgreeWithin(1 / there.slope, 1e-12);
    expect(back.chiSquared).toAgreeWithin(there.chiSquared, 1e-11);
  });

  it('York and generalised distance agree for correlated errors of one point', () => {
    const x = [1, 2, 3, 4, 5, 6];
    const y = [2.2, 3.9, 6.1, 8.2, 9.7, 12.3];
    const uX = [0.1, 0.1, 0.2, 0.2, 0.3, 0.3];
    const uY = [0.2, 0.2, 0.2, 0.4, 0.4, 0.4];
    const r = [0.5, -0.5, 0.3, 0, 0.2, -0.9];
    const xy = x.map((_, i) => x.map((__, j) => (i === j ? r[i]! * uX[i]! * uY[i]! : 0)));
    const a = york(x, y, uX, uY, r);
    const b = generalisedDistanceFit(x, y, { xx: diagonal(uX), yy: diagonal(uY), xy });
    expect(b.slope).toAgreeWithin(a.slope, 1e-12);
    expect(b.intercept).toAgreeWithin(a.intercept, 1e-11);
    expect(b.chiSquared).toAgreeWithin(a.chiSquared, 1e-11);
    expect(b.varianceSlope).toAgreeWithin(a.varianceSlope, 1e-12);
    b.adjustedX.forEach((value, i) => {
      expect(value).toAgreeWithin(a.adjustedX[i]!, 1e-11);
    });
  });

  it('a common stock error moves the slope of all standards: covariance is not lost', () => {
    // Standards diluted from one stock of relative uncertainty 1 %: x_i = c_i·(1 + δ), so u(x_i, x_j) = c_i·c_j·0.01².
    const c = [1, 2, 4, 6, 8];
    const y = c.map((v) => 10 * v);
    const own = diagonal(c.map(() => 0.001));
    const common = c.map((a, i) => c.map((b, j) => own[i]![j]! + a * b * 1e-4));
    const yy = diagonal(c.map(() => 0.01));
    const alone = generalisedDistanceFit(c, y, { xx: own, yy });
    const shared = generalisedDistanceFit(c, y, { xx: common, yy });
    const relative = Math.sqrt(shared.varianceSlope - alone.varianceSlope) / shared.slope;
    expect(relative).toAgreeWithin(0.01, 1e-3);
  });

  it('states the spread of its estimates: 400 seeded repetitions of an example', () => {
    const stream = randomStream(5, 'york');
    const slopes: number[] = [];
    let chi = 0;
    let stated = 0;
    for (let trial = 0; trial < 400; trial++) {
      const truth = [1, 2, 3, 4, 5, 6];
      const fit = york(
        truth.map((x) => x + 0.05 * stream.normal()),
        truth.map((x) => 1 + 2 * x + 0.1 * stream.normal()),
        truth.map(() => 0.05),
        truth.map(() => 0.1),
      );
      slopes.push(fit.slope);
      chi += fit.chiSquared / 400;
      stated += fit.varianceSlope / 400;
    }
    const variance = slopes.reduce((sum, s) => sum + (s - 2) ** 2, 0) / 400;
    // 400 repetitions know a variance to 7 %; χ² has mean 4 and standard error √(8/400).
    expect(variance / stated).toBeGreaterThan(0.75);
    expect(variance / stated).toBeLessThan(1.28);
    expect(Math.abs(chi - 4)).toBeLessThan(0.5);
  });

  it('says so when χ² is beyond its quantile', () => {
    const fit = york([1, 2, 3, 4], [2, 4.5, 5.4, 8.4], [0.01, 0.01, 0.01, 0.01], [0.02, 0.02, 0.02, 0.02]);
    expect(fit.pValue).toBeLessThan(0.001);
    expect(fit.notes.join(' ')).toContain('95 % quantile');
  });

  it('refuses points without uncertainty, wrong sizes, matrices that are not positive definite, values that are not finite', () => {
    const x = [1, 2, 3];
    const y = [2, 4, 6.1];
    const u = [0.1, 0.1, 0.1];
    expect(() => york(x, y, [0, 0.1, 0.1], [0, 0.1, 0.1])).toThrow('point 1: found no uncertainty');
    expect(() => york(x, y, u, [0.1, 0.1])).toThrow(InputError);
    expect(() => york(x, y, u, [-0.1, 0.1, 0.1])).toThrow('u(y) 1: found -0.1');
    expect(() => york(x, y, u, u, [2, 0, 0])).toThrow('correlation 1: found 2');
    expect(() => york([1, Number.NaN, 3], y, u, u)).toThrow('x: found NaN');
    expect(() => generalisedDistanceFit(x, y, { xx: diagonal(u), yy: diagonal([0.1, 0.1]) })).toThrow(
      '3 × 3',
    );
    expect(() => generalisedDistanceFit(x, y, { xx: diagonal([0, 0, 0]), yy: diagonal([0, 0, 0]) })).toThrow(
      'not positive definite',
    );
    const fit = york(x, y, u, u);
    expect(() => inverseEvaluation(fit, Number.NaN, 0.1)).toThrow('response');
    expect(() => forwardEvaluation(fit, 1, -1)).toThrow('u(x)');
    expect(() => inverseEvaluation({ ...fit, slope: 0 }, 1, 0.1)).toThrow('slope: found 0');
  });
});
