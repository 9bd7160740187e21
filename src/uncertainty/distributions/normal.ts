import { requirePositive } from '../../errors.js';
import { normalCdf, normalDensity, normalQuantile } from '../../statistics/distributions/normal.js';
import type { ProbabilityDistribution } from './probability-distribution.js';
import { symmetricDistribution } from './symmetric-distribution.js';

/**
 * Normal distribution: an estimate with a standard uncertainty taken as known.
 *
 * @throws InputError a standard uncertainty not above 0
 * @see JCGM 101:2008, 6.4.7
 * @example
 * normalDistribution(10, 2).quantile(0.975) // => 13.919927969
 */
export function normalDistribution(estimate: number, standardUncertainty: number): ProbabilityDistribution {
  requirePositive(standardUncertainty, 'standard uncertainty');
  return symmetricDistribution(estimate, {
    standardDeviation: standardUncertainty,
    reach: Infinity,
    density: (z) => normalDensity(z / standardUncertainty) / standardUncertainty,
    tail: (z) => normalCdf(-z / standardUncertainty),
    tailQuantile: (p) => -standardUncertainty * normalQuantile(p),
  });
}
