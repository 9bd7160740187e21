import { studentTQuantile, studentTSurvival } from '../../../src/statistics/distributions/student-t.js';
import { calibrationDetection } from '../../../src/statistics/regression/calibration-detection.js';
import { inversePrediction } from '../../../src/statistics/regression/inverse-prediction.js';
import { lackOfFit } from '../../../src/statistics/regression/lack-of-fit.js';
import { fitLine, type LineFit } from '../../../src/statistics/regression/line.js';
import { predictFromLine } from '../../../src/statistics/regression/line-prediction.js';
import { fitLineThroughOrigin } from '../../../src/statistics/regression/line-through-origin.js';
import { mandelTest } from '../../../src/statistics/regression/mandel-test.js';
import { fitPolynomial } from '../../../src/statistics/regression/polynomial.js';
import type { Computed } from '../../support/expect-block.js';
import type { JsonObject } from '../../support/reference-sets.js';

type Block = { readonly [key: string]: Computed };

/** All that the reference reports of a calibration line, computed by our functions in the reference's own shape. */
export function computedCalibration(
  reference: JsonObject,
  x: readonly number[],
  y: readonly number[],
  weights?: readonly number[],
): Block {
  const fit = fitLine(x, y, weights);
  const block: Record<string, Computed> = {
    ...coefficientsOf(fit),
    n: fit.n,
    weighted: weights !== undefined,
    residual_sd: fit.residualStandardDeviation,
    df: fit.degreesOfFreedom,
    r_squared: fit.rSquared,
    x_mean: fit.xMean,
    Sxx: fit.sumOfSquaresX,
    residuals: fit.residuals,
    anova_F: fitPolynomial(x, y, 1, weights ? { weights } : {}).f,
    quadratic: quadraticOf(x, y, weights),
    through_origin: originOf(x, y, weights),
  };
  if (reference.lack_of_fit) block.lack_of_fit = lackOfFitOf(fit);
  if (reference.inverse) block.inverse = computedInverse(reference.inverse as JsonObject, fit);
  if (reference.decision_and_detection) {
    block.decision_and_detection = detectionOf(reference.decision_and_detection as JsonObject, fit);
  }
  if (reference.confidence_band) block.confidence_band = bandOf(reference.confidence_band as JsonObject, fit);
  return block;
}

function coefficientsOf(fit: LineFit): Block {
  const seIntercept = Math.sqrt(fit.varianceIntercept);
  const seSlope = Math.sqrt(fit.varianceSlope);
  const t = studentTQuantile(0.975, fit.degreesOfFreedom);
  return {
    intercept: fit.intercept,
    slope: fit.slope,
    se_intercept: seIntercept,
    se_slope: seSlope,
    covariance: fit.covariance,
    correlation_of_coefficients: fit.covariance / (seIntercept * seSlope),
    p_intercept: 2 * studentTSurvival(Math.abs(fit.intercept) / seIntercept, fit.degreesOfFreedom),
    ci95_intercept: [fit.intercept - t * seIntercept, fit.intercept + t * seIntercept],
    ci95_slope: [fit.slope - t * seSlope, fit.slope + t * seSlope],
  };
}

function quadraticOf(x: readonly number[], y: readonly number[], weights?: readonly number[]): Block {
  const fit = fitPolynomial(x, y, 2, weights ? { weights } : {});
  const mandel = mandelTest(x, y, weights);
  return {
    coefficients: fit.coefficients,
    se: fit.standardErrors,
    residual_sd: fit.residualStandardDeviation,
    df: fit.degreesOfFreedom,
    r_squared: fit.rSquared,
    p_quadratic_term:
      2 * studentTSurvival(Math.abs(fit.coefficients[2]! / fit.standardErrors[2]!), fit.degreesOfFreedom),
    mandel_F_linear_vs_quadratic: mandel.f,
    mandel_p: mandel.pValue,
  };
}

function originOf(x: readonly number[], y: readonly number[], weights?: readonly number[]): Block {
  const fit = fitLineThroughOrigin(x, y, weights);
  return {
    slope: fit.slope,
    se: Math.sqrt(fit.varianceSlope),
    residual_sd: fit.residualStandardDeviation,
    df: fit.degreesOfFreedom,
  };
}

function lackOfFitOf(fit: LineFit): Block {
  const found = lackOfFit(fit);
  return {
    F: found.f,
    df: [found.degreesOfFreedomLackOfFit, found.degreesOfFreedomPureError],
    p: found.pValue,
    pure_error_SS: found.sumOfSquaresPureError,
    lack_of_fit_SS: found.sumOfSquaresLackOfFit,
    pure_error_sd: found.pureErrorStandardDeviation,
  };
}

/** Inverse predictions at the responses of a reference block. */
export function computedInverse(reference: JsonObject, fit: LineFit): Block {
  const m = reference.m as number;
  const points = (reference.points as readonly JsonObject[]).map((point) => {
    const found = inversePrediction(fit, point.y0 as number, m);
    return {
      y0: point.y0 as number,
      x0: found.x,
      se: found.standardUncertainty,
      wald_ci95: [found.wald.low, found.wald.high],
      g: found.g,
      fieller_ci95: [found.fieller.low, found.fieller.high],
    };
  });
  return { m, points };
}

/** The reference keeps the sign of the slope; a falling line has negative net values there. */
function detectionOf(reference: JsonObject, fit: LineFit): Block {
  const m = reference.m as number;
  const found = calibrationDetection(fit, { m });
  const sign = Math.sign(fit.slope);
  return {
    m,
    x_critical: sign * found.criticalValue,
    delta: found.delta,
    x_detectable: sign * found.minimumDetectable,
    three_sd_intercept_over_slope: (3 * Math.sqrt(fit.varianceIntercept)) / fit.slope,
    three_residual_sd_over_slope: (3 * fit.residualStandardDeviation) / fit.slope,
    ten_residual_sd_over_slope: (10 * fit.residualStandardDeviation) / fit.slope,
  };
}

function bandOf(reference: JsonObject, fit: LineFit): Block {
  const x = reference.x as readonly number[];
  const found = x.map((value) => predictFromLine(fit, value));
  return {
    x,
    fit: found.map((p) => p.y),
    se_fit: found.map((p) => p.standardUncertainty),
    ci95_half_width: found.map((p) => (p.confidence.high - p.confidence.low) / 2),
    prediction95_half_width_unit_weight: found.map((p) => (p.prediction.high - p.prediction.low) / 2),
  };
}
