import { requireInteger, requirePositive, requireProbability } from '../../errors.js';
import {
  chiSquaredCdf,
  chiSquaredDensity,
  chiSquaredQuantile,
  chiSquaredSurvival,
} from '../../statistics/distributions/chi-squared.js';
import type { ProbabilityDistribution } from './probability-distribution.js';

/**
 * Gamma distribution of a quantity known by counting: q objects counted of a Poisson process, with no knowledge before.
 * The mean number is q + 1 with variance q + 1, and the quantity is that number times a factor.
 *
 * @param estimate mean of the quantity, factor·(q + 1), above 0
 * @param counts q, a whole number of at least 0
 * @returns standard deviation estimate/√(q + 1)
 * @see JCGM 101:2008, 6.4.11
 * @example
 * gammaFromCountsDistribution(10, 9).standardDeviation // => 3.1622776602
 */
export function gammaFromCountsDistribution(estimate: number, counts: number): ProbabilityDistribution {
  requirePositive(estimate, 'estimate of a counted quantity');
  requireInteger(counts, 'counts', 0);
  const nu = 2 * (counts + 1);
  // Twice a gamma variable of shape q + 1 is χ² with 2(q + 1) degrees of freedom.
  const scale = estimate / nu;
  return {
    mean: estimate,
    standardDeviation: estimate / Math.sqrt(counts + 1),
    lower: 0,
    upper: Infinity,
    density: (x) => (x < 0 ? 0 : chiSquaredDensity(x / scale, nu) / scale),
    cdf: (x) => (x <= 0 ? 0 : chiSquaredCdf(x / scale, nu)),
    survival: (x) => (x <= 0 ? 1 : chiSquaredSurvival(x / scale, nu)),
    quantile: (p) => {
      requireProbability(p, 'probability');
      return scale * chiSquaredQuantile(p, nu);
    },
  };
}
