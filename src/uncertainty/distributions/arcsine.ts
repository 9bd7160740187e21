import { requirePositive } from '../../errors.js';
import type { ProbabilityDistribution } from './probability-distribution.js';
import { symmetricDistribution } from './symmetric-distribution.js';

/**
 * Arcsine (U-shaped) distribution: a quantity that swings as a sine between two limits, such as a controlled temperature.
 *
 * @param halfWidth amplitude, above 0
 * @returns standard deviation a/√2
 * @see JCGM 100:2008, H.1.3.2; JCGM 101:2008, 6.4.6
 * @example
 * arcsineDistribution(0, 0.5).standardDeviation // => 0.3535533906
 */
export function arcsineDistribution(centre: number, halfWidth: number): ProbabilityDistribution {
  requirePositive(halfWidth, 'half-width');
  return symmetricDistribution(centre, {
    standardDeviation: halfWidth / Math.SQRT2,
    reach: halfWidth,
    density: (z) => 1 / (Math.PI * Math.sqrt((halfWidth - z) * (halfWidth + z))),
    // 2·asin(√((1 − z)/2)) is acos(z) without loss of digits near 1.
    tail: (z) => (2 * Math.asin(Math.sqrt((halfWidth - z) / (2 * halfWidth)))) / Math.PI,
    tailQuantile: (p) => halfWidth * Math.cos(Math.PI * p),
  });
}
