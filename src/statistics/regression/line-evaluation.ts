import { InputError, requireFinite, requireNonNegative } from '../../errors.js';
import { lineHeight, lineVariance, type UncertainLineFit } from './uncertain-line.js';

/** A value read from a line, with its standard uncertainty by the law of propagation. */
export interface LineEvaluation {
  readonly value: number;
  readonly standardUncertainty: number;
  readonly method: string;
  readonly notes: readonly string[];
}

/**
 * x that belongs to a response, from a line fitted with stated uncertainties.
 *
 * @param y response, independent of the calibration
 * @param uY its standard uncertainty
 * @throws InputError slope 0, a value that is not finite, an uncertainty below 0
 * @see ISO/TS 28037:2010, clause 11
 * @example
 * const fit = { slope: 2, varianceSlope: 0.005, method: 'both-axes least squares' };
 * const line = { ...fit, xCentre: 1.8, yCentre: 4.6, varianceCentre: 0.0038 };
 * inverseEvaluation(line, 6, 0.1).value // => 2.5
 */
export function inverseEvaluation(fit: UncertainLineFit, y: number, uY: number): LineEvaluation {
  requireFinite([y], 'response');
  requireNonNegative(uY, 'u(response)');
  if (fit.slope === 0) throw new InputError('slope: found 0, expected a line that rises or falls');
  const value = fit.xCentre + (y - fit.yCentre) / fit.slope;
  return {
    value,
    standardUncertainty: Math.sqrt(uY ** 2 + lineVariance(fit, value)) / Math.abs(fit.slope),
    method: `inverse evaluation, ${fit.method}`,
    notes: [],
  };
}

/**
 * Response that belongs to an x, from a line fitted with stated uncertainties.
 *
 * @param x value, independent of the calibration
 * @param uX its standard uncertainty
 * @throws InputError a value that is not finite, an uncertainty below 0
 * @see ISO/TS 28037:2010, clause 11
 * @example
 * const fit = { slope: 2, varianceSlope: 0.005, method: 'both-axes least squares' };
 * const line = { ...fit, xCentre: 1.8, yCentre: 4.6, varianceCentre: 0.0038 };
 * forwardEvaluation(line, 2.5, 0).value // => 6
 */
export function forwardEvaluation(fit: UncertainLineFit, x: number, uX: number): LineEvaluation {
  requireFinite([x], 'x');
  requireNonNegative(uX, 'u(x)');
  return {
    value: lineHeight(fit, x),
    standardUncertainty: Math.sqrt(lineVariance(fit, x) + (fit.slope * uX) ** 2),
    method: `forward evaluation, ${fit.method}`,
    notes: [],
  };
}
