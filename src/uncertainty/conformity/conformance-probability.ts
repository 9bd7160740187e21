import { formatSignificant } from '../../quantities/rounding.js';
import type { ProbabilityDistribution } from '../distributions/probability-distribution.js';
import { requireLimits, type ToleranceLimits } from './tolerance-limits.js';

/**
 * Conformance probability: how probable it is that the measurand lies within the tolerance limits, given what the
 * measurement says of it.
 *
 * @param distribution of the measurand after the measurement, such as `normalDistribution(estimate, u)`
 * @throws InputError limits that are none
 * @see JCGM 106:2012, 7.2 to 7.4
 * @example
 * const rectangular = { cdf: (x) => (x - 4) / 2, survival: (x) => (6 - x) / 2 };
 * conformanceProbability(rectangular, { upper: 5.5 }) // => 0.75
 */
export function conformanceProbability(
  distribution: Pick<ProbabilityDistribution, 'cdf' | 'survival'>,
  limits: ToleranceLimits,
): number {
  requireLimits(limits);
  const { lower, upper } = limits;
  if (lower === undefined) return distribution.cdf(upper!);
  if (upper === undefined) return distribution.survival(lower);
  // The difference is taken between the smaller tails, which keep their digits.
  return distribution.cdf(lower) < 0.5
    ? distribution.cdf(upper) - distribution.cdf(lower)
    : distribution.survival(lower) - distribution.survival(upper);
}

/**
 * A conformance probability in % as it is said: three digits, and no more than that it is above 99.9 % or below 0.1 % where the
 * tails of the assumed distribution would tell more than anyone knows.
 *
 * @example
 * conformancePercent(0.99999) // => '> 99.9'
 */
export function conformancePercent(probability: number): string {
  if (probability > 0.999) return '> 99.9';
  return probability < 0.001 ? '< 0.1' : formatSignificant(100 * probability, 3);
}
