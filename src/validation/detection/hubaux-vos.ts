import { InputError, requireProbability } from '../../errors.js';
import { studentTQuantile } from '../../statistics/distributions/student-t.js';
import type { LineFit } from '../../statistics/regression/line.js';

/** Decision and detection limit read off the prediction bands of a calibration line, in the unit of x. */
export interface HubauxVos {
  /** Signal above which a reading is called detected. */
  readonly decisionSignal: number;
  readonly decisionLimit: number;
  /** Null where the line is too uncertain to have one: its lower band never reaches the decision signal. */
  readonly detectionLimit: number | null;
  readonly alpha: number;
  readonly beta: number;
}

/**
 * Limits after Hubaux and Vos: the upper prediction limit at content 0 gives the decision signal, and the content whose lower
 * prediction limit reaches this signal is the detection limit. One reading of one sample; ordinary least squares.
 *
 * @param fit calibration line by ordinary least squares with a rising slope
 * @throws InputError a weighted fit, a slope not above 0
 * @see Hubaux and Vos 1970, Anal. Chem. 42, 849
 */
export function hubauxVos(fit: LineFit, alpha: number = 0.05, beta: number = 0.05): HubauxVos {
  requireProbability(alpha, 'alpha');
  requireProbability(beta, 'beta');
  requireOrdinary(fit);
  const { intercept, slope, xMean, sumOfSquaresX, n, residualStandardDeviation: s } = fit;
  const inX = s / slope;
  const k = studentTQuantile(1 - beta, fit.degreesOfFreedom) * inX;
  const decisionLimit =
    studentTQuantile(1 - alpha, fit.degreesOfFreedom) *
    inX *
    Math.sqrt(1 + 1 / n + xMean ** 2 / sumOfSquaresX);
  // (x − x_C)² = k²·(1 + 1/n + (x − x̄)²/S_xx), the larger root.
  const a = 1 - k ** 2 / sumOfSquaresX;
  const halfB = decisionLimit - (k ** 2 * xMean) / sumOfSquaresX;
  const c = decisionLimit ** 2 - k ** 2 * (1 + 1 / n + xMean ** 2 / sumOfSquaresX);
  const root = a > 0 ? halfB ** 2 - a * c : -1;
  return {
    decisionSignal: intercept + slope * decisionLimit,
    decisionLimit,
    detectionLimit: root < 0 ? null : (halfB + Math.sqrt(root)) / a,
    alpha,
    beta,
  };
}

/** @throws InputError a weighted fit or a slope not above 0 */
export function requireOrdinary(fit: LineFit): void {
  if (!(fit.slope > 0)) throw new InputError(`slope: found ${fit.slope}, expected a rising calibration line`);
  if (fit.weights.some((weight) => weight !== 1)) {
    throw new InputError('calibration line: found a weighted fit, expected ordinary least squares');
  }
}
