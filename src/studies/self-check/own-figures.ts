import { airDensity } from '../../chain/air-density.js';
import { waterDensity } from '../../chain/water-density.js';
import { InputError } from '../../errors.js';
import { atomicWeight } from '../../quantities/atomic-weights.js';
import { oxideFactor } from '../../quantities/oxide.js';
import { oneWayAnalysis } from '../../statistics/analysis-of-variance/one-way.js';
import { detectionDelta } from '../../statistics/distributions/noncentral-t.js';
import { studentTQuantile } from '../../statistics/distributions/student-t.js';
import { inversePrediction } from '../../statistics/regression/inverse-prediction.js';
import { fitLine } from '../../statistics/regression/line.js';
import { predictFromLine } from '../../statistics/regression/line-prediction.js';
import type { CalibrationCase, DaysCase, LineCase, OwnCase, PrecisionCase } from './published-case.js';

const reference = { temperatureC: 20, pressurePa: 101325, relativeHumidity: 0.5, carbonDioxide: 0.0004 };

/** Relative change of air density per unit of one quantity, by a central difference. */
function airSensitivity(change: (step: number) => Partial<typeof reference>, step: number): number {
  const at = (sign: number) => Math.log(airDensity({ ...reference, ...change(sign * step) }));
  return (at(1) - at(-1)) / (2 * step);
}

/** The computed figure of each name an own case publishes. */
export function ownFigure(published: OwnCase, name: string): number {
  switch (published.calculation) {
    case 'water density':
      return waterDensity(Number(name));
    case 'air density sensitivities':
      if (name === 'per Pa') return airSensitivity((d) => ({ pressurePa: reference.pressurePa + d }), 10);
      if (name === 'per K')
        return airSensitivity((d) => ({ temperatureC: reference.temperatureC + d }), 0.01);
      if (name === 'per unit of relative humidity') {
        return airSensitivity((d) => ({ relativeHumidity: reference.relativeHumidity + d }), 1e-3);
      }
      return airSensitivity((d) => ({ carbonDioxide: reference.carbonDioxide + d }), 1e-6);
    case 'detection factors':
      return name === 't'
        ? studentTQuantile(0.95, published.degreesOfFreedom)
        : detectionDelta(published.degreesOfFreedom, 0.05, 0.05);
    case 'abridged atomic weights':
      return atomicWeight(name).value;
    case 'oxide factors':
      return oxideFactor(name, (element) => {
        const weight = published.conventionalAtomicWeights[element];
        if (weight === undefined)
          throw new InputError(`${name}: the case gives no atomic weight of ${element}`);
        return { value: weight, standardUncertainty: 0 };
      }).factor;
  }
}

/** Mean, s_r and s_R of each level. */
export function precisionFigures({
  inputs,
}: PrecisionCase): Record<string, Record<'m' | 's_r' | 's_R', number>> {
  const levels = inputs.lab_level_values[0]!.length;
  return Object.fromEntries(
    Array.from({ length: levels }, (_, level) => {
      const analysis = oneWayAnalysis(inputs.lab_level_values.map((laboratory) => laboratory[level]!));
      const { withinVariance, betweenVariance, groupMeans, groupSizes, n } = analysis;
      const m = groupMeans.reduce((sum, mean, i) => sum + mean * groupSizes[i]!, 0) / n;
      return [
        `level${level + 1}`,
        { m, s_r: Math.sqrt(withinVariance), s_R: Math.sqrt(withinVariance + betweenVariance) },
      ];
    }),
  );
}

/** Coefficients of GUM H.3 and the correction at the temperature asked for. */
export function lineFigures({ inputs }: LineCase): Record<keyof LineCase['published'], number> {
  const fit = fitLine(
    inputs.t_C.map((t) => t - inputs.t0_C),
    inputs.b_C,
  );
  const prediction = predictFromLine(fit, inputs.predict_at_C - inputs.t0_C);
  return {
    y1: fit.intercept,
    s_y1: Math.sqrt(fit.varianceIntercept),
    y2: fit.slope,
    s_y2: Math.sqrt(fit.varianceSlope),
    s: fit.residualStandardDeviation,
    b30: prediction.y,
    uc_b30: prediction.standardUncertainty,
  };
}

/**
 * Analysis of variance of GUM H.5. Each day is rebuilt as five values with its mean and standard deviation, in µV about 10 V;
 * the last figure takes all values as one sample.
 */
export function daysFigures({ inputs }: DaysCase): Record<keyof DaysCase['published'], number> {
  const days = inputs.day_mean_V.map((mean, day) =>
    [-1, -1, 0, 1, 1].map((z) => (mean - 10) * 1e6 + z * inputs.day_s_uV[day]!),
  );
  const found = oneWayAnalysis(days);
  const all = (found.sumOfSquaresBetween + found.sumOfSquaresWithin) / (found.n - 1);
  return {
    grand_mean_V: 10 + 1e-6 * found.grandMean,
    sa_uV: Math.sqrt(found.meanSquareBetween),
    sb_uV: Math.sqrt(found.meanSquareWithin),
    s_between_uV: Math.sqrt(found.betweenVariance),
    u_mean_between_uV: Math.sqrt(found.meanSquareBetween / found.n),
    u_mean_no_between_uV: Math.sqrt(all / found.n),
  };
}

/** Calibration of QUAM A5 and u(c₀). */
export function calibrationFigures({
  inputs,
}: CalibrationCase): Record<keyof CalibrationCase['published'], number> {
  const x = inputs.conc_mg_l.flatMap((c, i) => inputs.absorbance_3_reps[i]!.map(() => c));
  const fit = fitLine(x, inputs.absorbance_3_reps.flat());
  const inverse = inversePrediction(fit, fit.intercept + fit.slope * inputs.c0, inputs.p);
  return {
    B1: fit.slope,
    s_B1: Math.sqrt(fit.varianceSlope),
    B0: fit.intercept,
    s_B0: Math.sqrt(fit.varianceIntercept),
    S: fit.residualStandardDeviation,
    u_c0: inverse.standardUncertainty,
  };
}
