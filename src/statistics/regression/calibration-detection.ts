import { InputError, requirePositive, requireProbability } from '../../errors.js';
import { detectionDelta } from '../distributions/noncentral-t.js';
import { studentTQuantile } from '../distributions/student-t.js';
import type { LineFit } from './line.js';

/** Detection capability of a calibration line, in the unit of x. */
export interface CalibrationDetection {
  /** Critical value of the net x: a result above it is called detected; false positive rate alpha. */
  readonly criticalValue: number;
  /** Minimum detectable net x: found above the critical value with probability 1 − beta. */
  readonly minimumDetectable: number;
  /** Noncentrality that links the two. */
  readonly delta: number;
  readonly degreesOfFreedom: number;
  readonly alpha: number;
  readonly beta: number;
  readonly m: number;
  readonly method: string;
  readonly notes: readonly string[];
}

/** Settings of the detection capability of a calibration. */
export interface CalibrationDetectionOptions {
  /** Number of readings averaged for a sample. Default 1. */
  readonly m?: number;
  /** Weight of one reading at x = 0 on the scale of the fit's weights. Default 1. */
  readonly weight?: number;
  /** False positive rate. Default 0.05. */
  readonly alpha?: number;
  /** False negative rate. Default 0.05. */
  readonly beta?: number;
}

/**
 * Critical value and minimum detectable value of the net state variable from a calibration line.
 *
 * Answers: from which x on does this calibration tell a sample from a blank? The residual spread of the line is taken to
 * hold near x = 0; where it grows with x, weight the fit and state the weight at 0.
 * x_C = t₁₋α(ν)·(s/b)·√(1/(m·weight) + 1/Σw + x̄²/S_xx), x_D = δ(ν, α, β)·(the same without t).
 *
 * @param fit calibration line by ordinary or weighted least squares
 * @throws InputError slope 0, m or weight not above 0, alpha or beta outside (0, 1)
 * @see ISO 11843-2:2000, 5.2 and 5.3; Hubaux and Vos 1970, Anal. Chem. 42, 849
 * @example
 * const centre = { xMean: 1.5, sumOfWeights: 4, sumOfSquaresX: 5 };
 * const line = { ...centre, slope: 2, residualStandardDeviation: 0.1, degreesOfFreedom: 2 };
 * calibrationDetection(line).criticalValue // => 0.19036
 */
export function calibrationDetection(
  fit: LineFit,
  options: CalibrationDetectionOptions = {},
): CalibrationDetection {
  const { m = 1, weight = 1, alpha = 0.05, beta = 0.05 } = options;
  requirePositive(m, 'number of readings');
  requirePositive(weight, 'weight');
  requireProbability(alpha, 'alpha');
  requireProbability(beta, 'beta');
  if (fit.slope === 0) throw new InputError('slope: found 0, expected a line that rises or falls');
  const spread =
    (fit.residualStandardDeviation / Math.abs(fit.slope)) *
    Math.sqrt(1 / (m * weight) + 1 / fit.sumOfWeights + fit.xMean ** 2 / fit.sumOfSquaresX);
  const delta = detectionDelta(fit.degreesOfFreedom, alpha, beta);
  return {
    criticalValue: studentTQuantile(1 - alpha, fit.degreesOfFreedom) * spread,
    minimumDetectable: delta * spread,
    delta,
    degreesOfFreedom: fit.degreesOfFreedom,
    alpha,
    beta,
    m,
    method: 'detection capability of a linear calibration',
    notes: [],
  };
}
