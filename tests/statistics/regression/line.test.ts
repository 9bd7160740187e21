import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { studentTQuantile } from '../../../src/statistics/distributions/student-t.js';
import { inversePrediction } from '../../../src/statistics/regression/inverse-prediction.js';
import { fitLine } from '../../../src/statistics/regression/line.js';
import { predictFromLine } from '../../../src/statistics/regression/line-prediction.js';
import { exactLeastSquares } from '../../support/exact-least-squares.js';
import { type PublishedExample, readReference } from '../../support/reference-sets.js';

describe('straight line by least squares', () => {
  // JCGM 100:2008 H.3, Table H.6: figures remembered and recomputed.
  it('gives the thermometer calibration of the GUM, with covariance and prediction', () => {
    const { inputs, published } = readReference<
      PublishedExample<
        { t_C: number[]; b_C: number[]; t0_C: number; predict_at_C: number },
        Record<string, string> & { predicted: string[]; residual: string[] }
      >
    >('statistics/gum-h3-thermometer-calibration');
    const fit = fitLine(
      inputs.t_C.map((t) => t - inputs.t0_C),
      inputs.b_C,
    );
    expect(fit.intercept).toRoundTo(published.y1!);
    expect(fit.slope).toRoundTo(published.y2!);
    expect(Math.sqrt(fit.varianceIntercept)).toRoundTo(published.s_y1!);
    expect(Math.sqrt(fit.varianceSlope)).toRoundTo(published.s_y2!);
    expect(fit.covariance / Math.sqrt(fit.varianceIntercept * fit.varianceSlope)).toRoundTo(published.r!);
    expect(fit.residualStandardDeviation).toRoundTo(published.s!);
    expect(fit.degreesOfFreedom).toBe(Number(published.nu));
    published.predicted.forEach((printed, i) => {
      expect(fit.fitted[i]).toRoundTo(printed);
    });
    published.residual.forEach((printed, i) => {
      expect(fit.residuals[i]).toRoundTo(printed);
    });
    const at30 = predictFromLine(fit, inputs.predict_at_C - inputs.t0_C);
    expect(at30.y).toRoundTo(published.b30!);
    expect(at30.standardUncertainty).toRoundTo(published.uc_b30!);
  });

  // Harvey, Analytical Chemistry 2.1, solutions manual, chapter 5: figures read in the document.
  it('gives the cadmium calibration at pH 4.6', () => {
    const { inputs, published, notReproduced } = readReference<
      PublishedExample<{ Cd_nM: number[]; signal_nA: number[] }, Record<string, string>>
    >('statistics/harvey-cadmium-calibration');
    const fit = fitLine(inputs.Cd_nM, inputs.signal_nA);
    expect(fit.slope).toRoundTo(published.b1!);
    expect(fit.intercept).toRoundTo(published.b0!);
    expect(fit.residualSumOfSquares).toRoundTo(published.SS_res!);
    expect(fit.residualStandardDeviation).toRoundTo(published.s_r!);
    expect(Math.sqrt(fit.varianceSlope)).toRoundTo(published.s_b1!);
    expect(Math.sqrt(fit.varianceIntercept)).toRoundTo(published.s_b0!);
    expect(inputs.Cd_nM.reduce((a, b) => a + b, 0)).toRoundTo(published.sum_x!);
    expect(inputs.Cd_nM.reduce((a, b) => a + b * b, 0)).toRoundTo(published.sum_xx!);
    // Printed 0.036; t times the printed standard error, 2.776·0.0128, is 0.0355.
    const half = studentTQuantile(0.975, 4) * Math.sqrt(fit.varianceSlope);
    expect(half).toAgreeWithin(notReproduced!.CI_b1!.exact, 1e-11);
    expect(2.776 * 0.0128).toRoundTo('0.0355');
  });

  // Miller and Miller, example 5.10.1: figures remembered and recomputed. The printed centroid, 0.229, comes from weights
  // rounded to three decimals (1.372/6); the exact weights give 0.22957.
  it('gives the weighted line of the textbook and its centroid by exact weights', () => {
    const { inputs, published, notReproduced } = readReference<
      PublishedExample<
        { conc: number[]; absorbance: number[]; s: number[] },
        Record<string, string> & { weights: string[] }
      >
    >('statistics/miller-weighted-line');
    const weights = inputs.s.map((s) => s ** -2);
    const plain = fitLine(inputs.conc, inputs.absorbance);
    const fit = fitLine(inputs.conc, inputs.absorbance, weights);
    expect(plain.intercept).toRoundTo(published.a_unweighted!);
    expect(plain.slope).toRoundTo(published.b_unweighted!);
    expect(fit.slope).toRoundTo(published.b_w!);
    expect(fit.intercept).toRoundTo(published.a_w!);
    expect(fit.xMean).toAgreeWithin(notReproduced!.xbar_w!.exact, 1e-11);
    expect(fit.yMean).toAgreeWithin(notReproduced!.ybar_w!.exact, 1e-11);
    const total = weights.reduce((a, b) => a + b, 0);
    published.weights.forEach((printed, i) => {
      expect((6 * weights[i]!) / total).toRoundTo(printed);
    });
    // The book reads concentrations with its rounded coefficients, 0.0091 and 0.0738.
    expect((0.1 - 0.0091) / 0.0738).toRoundTo(published['x(0.100)']!);
    expect((0.6 - 0.0091) / 0.0738).toRoundTo(published['x(0.600)']!);
    expect(inversePrediction(fit, 0.1, 1).x).toAgreeWithin(1.23259400546, 1e-11);
    expect(inversePrediction(fit, 0.6, 1).x).toAgreeWithin(8.01133897388, 1e-11);
    const rounded = weights.map((w) => Number(((6 * w) / total).toFixed(3)));
    expect(fitLine(inputs.conc, inputs.absorbance, rounded).xMean.toFixed(3)).toBe('0.229');
  });

  it('does not depend on a common factor of the weights', () => {
    const x = [0, 1, 2, 4, 8];
    const y = [0.1, 1.2, 1.9, 4.3, 7.8];
    const w = [4, 3, 2, 1, 0.5];
    const fit = fitLine(x, y, w);
    const scaled = fitLine(
      x,
      y,
      w.map((v) => v * 8),
    );
    expect(scaled.slope).toBe(fit.slope);
    expect(scaled.varianceIntercept).toAgreeWithin(fit.varianceIntercept, 1e-15);
    expect(fit.leverages.reduce((a, b) => a + b, 0)).toAgreeWithin(2, 1e-14);
  });

  it('says so when every point lies on the line', () => {
    const fit = fitLine([1, 2, 3], [2, 4, 6]);
    expect(fit.residualStandardDeviation).toBe(0);
    expect(fit.notes.join(' ')).toContain('Every point');
    expect(fitLine([1, 2, 3], [5, 5, 5]).rSquared).toBe(0);
  });

  it('refuses too few points, equal x, unequal lengths, weights of 0 and values that are not finite', () => {
    expect(() => fitLine([1, 2], [1, 2])).toThrow('x: found 2 value(s), expected at least 3');
    expect(() => fitLine([0.1, 0.1, 0.1], [1, 2, 3])).toThrow(InputError);
    expect(() => fitLine([1, 2, 3], [1, 2])).toThrow(InputError);
    expect(() => fitLine([1, 2, 3], [1, 2, 3], [1, 0, 1])).toThrow('weight 2: found 0');
    expect(() => fitLine([1, 2, 3], [1, Number.POSITIVE_INFINITY, 3])).toThrow(
      'y: found Infinity at position 2',
    );
  });

  it('agrees with exact arithmetic on hostile data: x and y far from 0, nearly equal x', () => {
    const step = fc.integer({ min: -500, max: 500 });
    const point = fc.tuple(step, step, fc.integer({ min: 1, max: 9 }));
    fc.assert(
      fc.property(
        fc.array(point, { minLength: 3, maxLength: 12 }),
        fc.integer({ min: 0, max: 12 }),
        (points, digits) => {
          const x = points.map(([a]) => 10 ** digits + a / 8);
          const y = points.map(([, b]) => 3 * 10 ** digits + b / 8);
          const w = points.map(([, , c]) => c / 4);
          fc.pre(new Set(x).size > 1);
          const exact = exactLeastSquares([x.map(() => 1), x], y, w);
          const found = fitLine(x, y, w);
          expect(found.intercept).toAgreeWithin(exact.coefficients[0]!, 1e-14);
          expect(found.slope).toAgreeWithin(exact.coefficients[1]!, 1e-14);
          expect(found.residualSumOfSquares).toAgreeWithin(exact.residualSumOfSquares, 1e-13);
          expect(found.varianceIntercept).toAgreeWithin(exact.variances[0]!, 1e-13);
          expect(found.varianceSlope).toAgreeWithin(exact.variances[1]!, 1e-13);
        },
      ),
      { numRuns: 150 },
    );
  });
});
