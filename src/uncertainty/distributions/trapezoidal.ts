import { InputError, requirePositive } from '../../errors.js';
import type { ProbabilityDistribution } from './probability-distribution.js';
import { symmetricDistribution } from './symmetric-distribution.js';

/**
 * Symmetric trapezoidal distribution: limits, with all values near the middle equally likely; the sum of two rectangular
 * ones of half-widths (a + b)/2 and (a − b)/2.
 *
 * @param halfWidth a, half the base
 * @param topHalfWidth b, half the top, from 0 (triangular) to below a
 * @returns standard deviation √((a² + b²)/6)
 * @throws InputError a not above 0, b not from 0 to below a
 * @see JCGM 100:2008, 4.3.9; JCGM 101:2008, 6.4.4
 * @example
 * trapezoidalDistribution(0, 3, 1).standardDeviation // => 1.2909944487
 */
export function trapezoidalDistribution(
  centre: number,
  halfWidth: number,
  topHalfWidth: number,
): ProbabilityDistribution {
  requirePositive(halfWidth, 'half-width');
  if (!(topHalfWidth >= 0 && topHalfWidth < halfWidth)) {
    throw new InputError(
      `half-width of the top: found ${topHalfWidth}, expected from 0 to below ${halfWidth}`,
    );
  }
  const slope = halfWidth - topHalfWidth;
  const height = 1 / (halfWidth + topHalfWidth);
  const corner = (height * slope) / 2;
  return symmetricDistribution(centre, {
    standardDeviation: Math.sqrt((halfWidth ** 2 + topHalfWidth ** 2) / 6),
    reach: halfWidth,
    density: (z) => (z <= topHalfWidth ? height : (height * (halfWidth - z)) / slope),
    tail: (z) =>
      z >= topHalfWidth
        ? (height * (halfWidth - z) ** 2) / (2 * slope)
        : corner + height * (topHalfWidth - z),
    tailQuantile: (p) =>
      p <= corner ? halfWidth - Math.sqrt((2 * slope * p) / height) : topHalfWidth - (p - corner) / height,
  });
}
