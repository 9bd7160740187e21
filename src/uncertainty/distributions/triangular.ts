import { requirePositive } from '../../errors.js';
import type { ProbabilityDistribution } from './probability-distribution.js';
import { symmetricDistribution } from './symmetric-distribution.js';

/**
 * Symmetric triangular distribution: limits, with values near the middle more likely; the sum of two equal rectangular ones.
 *
 * @param halfWidth half the distance of the limits, above 0
 * @returns standard deviation a/√6
 * @see JCGM 100:2008, 4.3.9; JCGM 101:2008, 6.4.5
 * @example
 * triangularDistribution(0, 3).standardDeviation // => 1.2247448714
 */
export function triangularDistribution(centre: number, halfWidth: number): ProbabilityDistribution {
  requirePositive(halfWidth, 'half-width');
  return symmetricDistribution(centre, {
    standardDeviation: halfWidth / Math.sqrt(6),
    reach: halfWidth,
    density: (z) => (halfWidth - z) / halfWidth ** 2,
    tail: (z) => ((halfWidth - z) / halfWidth) ** 2 / 2,
    tailQuantile: (p) => halfWidth - halfWidth * Math.sqrt(2 * p),
  });
}
