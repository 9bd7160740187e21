import { describe, expect, it } from 'vitest';
import { studentTQuantile } from '../../../src/statistics/distributions/student-t.js';
import { inversePrediction } from '../../../src/statistics/regression/inverse-prediction.js';
import { fitLine } from '../../../src/statistics/regression/line.js';
import { type PublishedExample, readReference } from '../../support/reference-sets.js';

describe('inverse prediction from a calibration line', () => {
  // Miller and Miller, examples 5.3.1 to 5.7: figures remembered and recomputed. The printed s(y/x) = 0.4329 comes from
  // fitted values of two decimals (residual sum of squares 0.9368); exact arithmetic gives 0.432848, and s(a) follows it.
  it('gives the fluorescein example, with the effect of replicates', () => {
    const { inputs, published, notReproduced } = readReference<
      PublishedExample<{ x_pg_ml: number[]; y: number[]; y0: number[] }, Record<string, string>>
    >('statistics/miller-fluorescein-calibration');
    const fit = fitLine(inputs.x_pg_ml, inputs.y);
    expect(fit.intercept).toRoundTo(published.a!);
    expect(fit.slope).toRoundTo(published.b!);
    expect(Math.sqrt(fit.rSquared)).toRoundTo(published.r!);
    expect(Math.sqrt(fit.varianceSlope)).toRoundTo(published.s_b!);
    const t5 = studentTQuantile(0.975, 5);
    expect(t5).toRoundTo(published.t5!);
    expect(t5 * Math.sqrt(fit.varianceSlope)).toRoundTo(published.CI_b!);
    expect(t5 * Math.sqrt(fit.varianceIntercept)).toRoundTo(published.CI_a!);
    // The printed limit of detection is a + 3·s(y/x) of the printed figures.
    expect(1.518 + 3 * 0.4329).toRoundTo(published.LOD_y!);
    expect((1.518 + 3 * 0.4329 - fit.intercept) / fit.slope).toRoundTo(published.LOD_x!);
    expect(fit.residualStandardDeviation).toAgreeWithin(notReproduced!.s_yx!.exact, 1e-11);
    expect(Math.sqrt(fit.varianceIntercept)).toAgreeWithin(notReproduced!.s_a!.exact, 1e-11);
    const rounded = inputs.x_pg_ml.map((x, i) => (inputs.y[i]! - Number((1.518 + 1.93 * x).toFixed(2))) ** 2);
    expect(Math.sqrt(rounded.reduce((a, b) => a + b, 0) / 5)).toRoundTo(notReproduced!.s_yx!.printed);
    for (const y0 of inputs.y0) {
      const name = y0.toFixed(1);
      const found = inversePrediction(fit, y0, 1);
      expect(found.x).toRoundTo(published[`x0(${name})`]!);
      expect(found.standardUncertainty).toRoundTo(published[`s_x0(${name})`]!);
      expect(found.wald.high - found.x).toRoundTo(published[`CI(${name})`]!);
    }
    const four = inversePrediction(fit, 13.5, 4);
    expect(four.standardUncertainty).toRoundTo(published['s_x0(13.5,m=4)']!);
    expect(four.wald.high - four.x).toRoundTo(published['CI(13.5,m=4)']!);
  });

  // Harvey, Modern Analytical Chemistry, Examples 5.10 to 5.12: figures remembered and recomputed. The printed residual sum
  // of squares, 0.6512, comes from fitted values of three decimals; exact arithmetic gives 0.650594.
  it('gives the external-standard example with three replicates', () => {
    const { inputs, published, notReproduced } = readReference<
      PublishedExample<{ C_S: number[]; S_meas: number[]; sample_signals: number[] }, Record<string, string>>
    >('statistics/harvey-external-standards');
    const fit = fitLine(inputs.C_S, inputs.S_meas);
    expect(fit.slope).toRoundTo(published.b1!);
    expect(fit.intercept).toRoundTo(published.b0!);
    expect(Math.sqrt(fit.varianceIntercept)).toRoundTo(published.s_b0!);
    expect(fit.residualSumOfSquares).toAgreeWithin(notReproduced!.SS_res!.exact, 1e-11);
    expect(fit.residualStandardDeviation).toAgreeWithin(notReproduced!.s_r!.exact, 1e-11);
    expect(Math.sqrt(fit.varianceSlope)).toAgreeWithin(notReproduced!.s_b1!.exact, 1e-11);
    const t4 = studentTQuantile(0.975, 4);
    expect(t4).toRoundTo(published.t!);
    expect(t4 * Math.sqrt(fit.varianceSlope)).toRoundTo(published.CI_b1!);
    expect(t4 * Math.sqrt(fit.varianceIntercept)).toRoundTo(published.CI_b0!);
    const mean = inputs.sample_signals.reduce((a, b) => a + b, 0) / 3;
    const found = inversePrediction(fit, mean, 3);
    expect(found.x).toRoundTo(published.C_A!);
    expect(found.standardUncertainty).toRoundTo(published.s_CA!);
    expect(found.wald.high - found.x).toRoundTo(published.CI_CA!);
  });

  // EURACHEM/CITAC QUAM:2012, Example A5 and E.4: figures remembered and recomputed.
  it('gives u(c0) of the cadmium calibration of QUAM A5', () => {
    const { inputs, published } = readReference<
      PublishedExample<
        { conc_mg_l: number[]; absorbance_3_reps: number[][]; c0: number; p: number },
        Record<string, string>
      >
    >('statistics/quam-a5-cadmium-calibration');
    const x = inputs.conc_mg_l.flatMap((c) => [c, c, c]);
    const fit = fitLine(x, inputs.absorbance_3_reps.flat());
    expect(fit.slope).toRoundTo(published.B1!);
    expect(fit.intercept).toRoundTo(published.B0!);
    expect(Math.sqrt(fit.varianceSlope)).toRoundTo(published.s_B1!);
    expect(Math.sqrt(fit.varianceIntercept)).toRoundTo(published.s_B0!);
    expect(Math.sqrt(fit.rSquared)).toRoundTo(published.r!);
    expect(fit.residualStandardDeviation).toRoundTo(published.S!);
    expect(fit.sumOfSquaresX).toRoundTo(published.Sxx!);
    expect(fit.xMean).toRoundTo(published.cbar!);
    const found = inversePrediction(fit, fit.intercept + fit.slope * inputs.c0, inputs.p);
    expect(found.x).toAgreeWithin(inputs.c0, 1e-14);
    expect(found.standardUncertainty).toRoundTo(published.u_c0!);
  });

  // Miller and Miller, example 5.8.1: figures remembered and recomputed. Standard addition is the inverse prediction at
  // response 0 without a reading of its own; the printed s(xE) = 0.749 follows from the printed s(y/x), 0.01094.
  it('gives the extrapolation of a standard addition', () => {
    const { inputs, published, notReproduced } = readReference<
      PublishedExample<{ added_ug_ml: number[]; absorbance: number[] }, Record<string, string>>
    >('statistics/miller-standard-additions');
    const fit = fitLine(inputs.added_ug_ml, inputs.absorbance);
    expect(fit.intercept).toRoundTo(published.a!);
    expect(fit.slope).toRoundTo(published.b!);
    expect(fit.residualStandardDeviation).toAgreeWithin(notReproduced!.s_yx!.exact, 1e-11);
    const found = inversePrediction(fit, 0, Number.MAX_VALUE);
    expect(-found.x).toRoundTo(published.xE!);
    expect(found.standardUncertainty).toAgreeWithin(notReproduced!.s_xE!.exact, 1e-11);
    expect(found.wald.high - found.x).toRoundTo(published.CI!);
    expect((found.standardUncertainty / fit.residualStandardDeviation) * 0.01094).toRoundTo('0.749');
  });

  it('gives Fieller limits that contain the estimate and grow unbounded when the slope is not significant', () => {
    const fit = fitLine([0, 1, 2, 3, 4], [0.2, 0.9, 2.2, 2.8, 4.1]);
    const found = inversePrediction(fit, 3.1, 2);
    expect(found.fieller.low).toBeLessThan(found.x);
    expect(found.fieller.high).toBeGreaterThan(found.x);
    for (const limit of [found.fieller.low, found.fieller.high]) {
      // Fieller 1954: at a limit the distance of the reading from the line is t standard uncertainties.
      const spread = fit.residualStandardDeviation * Math.sqrt(1 / 2 + 1 / 5 + (limit - 2) ** 2 / 10);
      const t = (found.wald.high - found.x) / found.standardUncertainty;
      expect(Math.abs(3.1 - fit.intercept - fit.slope * limit)).toAgreeWithin(t * spread, 1e-12);
    }
    const flat = inversePrediction(fitLine([0, 1, 2, 3], [1, 2, 0.9, 1.5]), 1.2, 1);
    expect(flat.g).toBeGreaterThan(1);
    expect(flat.fieller.low).toBe(Number.NEGATIVE_INFINITY);
    expect(flat.notes.join(' ')).toContain('unbounded');
  });

  it('refuses a slope of 0 and readings that are not positive', () => {
    const fit = fitLine([0, 1, 2], [1, 2, 2.5]);
    expect(() => inversePrediction(fitLine([0, 1, 2, 3], [1, 2, 2, 1]), 1, 1)).toThrow('slope: found 0');
    expect(() => inversePrediction(fit, 1, 0)).toThrow('number of readings: found 0');
    expect(() => inversePrediction(fit, Number.NaN, 1)).toThrow('mean response');
    expect(() => inversePrediction(fit, 1, 1, { weight: -1 })).toThrow('weight: found -1');
  });
});
