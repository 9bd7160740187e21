import { requirePositive } from '../../errors.js';
import type { ProbabilityDistribution } from './probability-distribution.js';
import { symmetricDistribution } from './symmetric-distribution.js';

/**
 * Rectangular distribution: nothing is known but two limits.
 *
 * @param halfWidth half the distance of the limits, above 0
 * @returns standard deviation a/√3
 * @see JCGM 100:2008, 4.3.7; JCGM 101:2008, 6.4.2
 * @example
 * rectangularDistribution(0, 3).standardDeviation // => 1.7320508076
 */
export function rectangularDistribution(centre: number, halfWidth: number): ProbabilityDistribution {
  requirePositive(halfWidth, 'half-width');
  return symmetricDistribution(centre, {
    standardDeviation: halfWidth / Math.sqrt(3),
    reach: halfWidth,
    density: () => 0.5 / halfWidth,
    tail: (z) => (halfWidth - z) / (2 * halfWidth),
    tailQuantile: (p) => halfWidth - 2 * p * halfWidth,
  });
}
