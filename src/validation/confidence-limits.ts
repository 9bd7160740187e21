import { requireFinite, requireNonNegative, requirePositive } from '../errors.js';
import { chiSquaredQuantile } from '../statistics/distributions/chi-squared.js';
import { studentTQuantile } from '../statistics/distributions/student-t.js';
import type { ConfidenceLimits } from './finding.js';

/** Limits made from a function that gives a lower and an upper limit at a one-sided error probability. */
export function limitsFrom(
  lower: (probability: number) => number,
  upper: (probability: number) => number,
): ConfidenceLimits {
  return {
    lowerOneSided: lower(0.05),
    upperOneSided: upper(0.05),
    low: lower(0.025),
    high: upper(0.025),
  };
}

/**
 * Limits of an estimate with a normal or scaled t distribution: estimate ± t·u.
 *
 * @param degreesOfFreedom above 0; Infinity for the normal distribution
 * @throws InputError an estimate that is not finite, a negative standard uncertainty, no degrees of freedom
 * @see JCGM 100:2008 (GUM), G.3
 * @example
 * limitsOfEstimate(10, 1, Infinity).upperOneSided // => 11.6449
 */
export function limitsOfEstimate(
  estimate: number,
  standardUncertainty: number,
  degreesOfFreedom: number,
): ConfidenceLimits {
  requireFinite([estimate], 'estimate');
  requireNonNegative(standardUncertainty, 'standard uncertainty');
  if (degreesOfFreedom !== Infinity) requirePositive(degreesOfFreedom, 'degrees of freedom');
  const half = (p: number) => studentTQuantile(1 - p, degreesOfFreedom) * standardUncertainty;
  return limitsFrom(
    (p) => estimate - half(p),
    (p) => estimate + half(p),
  );
}

/**
 * Limits of a standard deviation of normal data: s·√(ν/χ²).
 *
 * @throws InputError a negative standard deviation, no degrees of freedom
 * @see ISO 3534-1; ISO 2854:1976, 12 (clause from memory)
 * @example
 * limitsOfStandardDeviation(1, 5).upperOneSided // => 2.08926
 */
export function limitsOfStandardDeviation(
  standardDeviation: number,
  degreesOfFreedom: number,
): ConfidenceLimits {
  requireNonNegative(standardDeviation, 'standard deviation');
  requirePositive(degreesOfFreedom, 'degrees of freedom');
  const at = (p: number) =>
    standardDeviation * Math.sqrt(degreesOfFreedom / chiSquaredQuantile(p, degreesOfFreedom));
  return limitsFrom(
    (p) => at(1 - p),
    (p) => at(p),
  );
}

/**
 * Limits under a change of unit; a negative factor exchanges the sides.
 *
 * @example
 * scaleLimits({ lowerOneSided: 1, upperOneSided: 2, low: 0, high: 3 }, 10).high // => 30
 */
export function scaleLimits(limits: ConfidenceLimits, factor: number): ConfidenceLimits {
  const scaled = {
    lowerOneSided: limits.lowerOneSided * factor,
    upperOneSided: limits.upperOneSided * factor,
    low: limits.low * factor,
    high: limits.high * factor,
  };
  if (factor >= 0) return scaled;
  return {
    lowerOneSided: scaled.upperOneSided,
    upperOneSided: scaled.lowerOneSided,
    low: scaled.high,
    high: scaled.low,
  };
}
