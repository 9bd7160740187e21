import { requirePositive, requireProbability } from '../../errors.js';
import type { ProbabilityDistribution } from './probability-distribution.js';

/**
 * Exponential distribution: a quantity that cannot be negative, of which nothing but the best estimate is known.
 *
 * @param estimate the mean, above 0; the standard deviation is as large
 * @see JCGM 101:2008, 6.4.10
 * @example
 * exponentialDistribution(2).quantile(0.95) // => 5.9914645471
 */
export function exponentialDistribution(estimate: number): ProbabilityDistribution {
  requirePositive(estimate, 'estimate of a quantity with an exponential distribution');
  return {
    mean: estimate,
    standardDeviation: estimate,
    lower: 0,
    upper: Infinity,
    density: (x) => (x < 0 ? 0 : Math.exp(-x / estimate) / estimate),
    cdf: (x) => (x < 0 ? 0 : -Math.expm1(-x / estimate)),
    survival: (x) => (x < 0 ? 1 : Math.exp(-x / estimate)),
    quantile: (p) => {
      requireProbability(p, 'probability');
      return -estimate * Math.log1p(-p);
    },
  };
}
