import type { Distribution } from '../input-quantity.js';

/**
 * Standard uncertainty that the parameters of a distribution give, where they give one; nothing where it is stated apart
 * from them (normal, t, lognormal) or takes a whole sample to find.
 */
export function impliedStandardUncertainty(distribution: Distribution, estimate: number): number | undefined {
  switch (distribution.kind) {
    case 'rectangular':
      return distribution.halfWidth / Math.sqrt(3);
    case 'triangular':
      return distribution.halfWidth / Math.sqrt(6);
    case 'trapezoidal':
      return Math.sqrt((distribution.halfWidth ** 2 + distribution.topHalfWidth ** 2) / 6);
    case 'curvilinear trapezoid':
      return Math.sqrt(distribution.halfWidth ** 2 / 3 + distribution.halfWidthUncertainty ** 2 / 9);
    case 'arcsine':
      return distribution.halfWidth / Math.SQRT2;
    case 'exponential':
      return estimate;
    case 'gamma from counts':
      return estimate / Math.sqrt(distribution.counts + 1);
    default:
      return undefined;
  }
}

/** How far below or above its estimate a quantity reaches: its limits, or three standard uncertainties. */
export function reachOf(distribution: Distribution, standardUncertainty: number): number {
  switch (distribution.kind) {
    case 'rectangular':
    case 'triangular':
    case 'trapezoidal':
    case 'arcsine':
      return distribution.halfWidth;
    case 'curvilinear trapezoid':
      return distribution.halfWidth + distribution.halfWidthUncertainty;
    default:
      return 3 * standardUncertainty;
  }
}

/** Whether a quantity of this distribution is above 0 and rarely near it, however large its uncertainty. */
export function isPositive(distribution: Distribution): boolean {
  return (
    distribution.kind === 'lognormal' ||
    (distribution.kind === 'gamma from counts' && distribution.counts > 0)
  );
}
