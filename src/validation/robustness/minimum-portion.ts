import { InputError, requireNonNegative, requirePositive } from '../../errors.js';
import type { ConfidenceLimits } from '../finding.js';

export interface MinimumPortionOptions {
  /** Relative standard deviation between portions that heterogeneity makes at `portionG`, with limits; fractions of 1. */
  readonly relativeHeterogeneity: number;
  readonly limits: ConfidenceLimits;
  readonly portionG: number;
  /** Largest relative standard deviation that heterogeneity may contribute. */
  readonly allowedRelative: number;
}

/** Smallest portion that represents the material well enough. */
export interface MinimumPortion {
  /** Ingamells' sampling constant: mass at which heterogeneity makes 1 %, in g. */
  readonly samplingConstantG: number;
  readonly minimumG: number;
  /** With the upper one-sided 95 % limit of the heterogeneity: the figure to work by. */
  readonly safeMinimumG: number;
}

/**
 * Smallest representative portion: variance by heterogeneity falls with the mass, so K = s²·m is a constant of the material and
 * the minimum is m·(s/s_allowed)². Holds while grains are many and independent; not below a tenth of the portion studied.
 *
 * @throws InputError a mass or an allowed standard deviation not above 0, limits in the wrong order
 * @see Ingamells and Switzer 1973, Talanta 20, 547
 * @example
 * minimumPortion({ relativeHeterogeneity: 0.01, limits: { lowerOneSided: 0.006, upperOneSided: 0.02, low: 0.005, high: 0.022 }, portionG: 0.2, allowedRelative: 0.01 }).safeMinimumG // => 0.8
 */
export function minimumPortion(options: MinimumPortionOptions): MinimumPortion {
  const { relativeHeterogeneity, limits, portionG, allowedRelative } = options;
  requireNonNegative(relativeHeterogeneity, 'relative heterogeneity');
  requirePositive(portionG, 'portion');
  requirePositive(allowedRelative, 'allowed relative standard deviation');
  if (!(limits.upperOneSided >= relativeHeterogeneity)) {
    throw new InputError(
      `upper limit of the heterogeneity: found ${limits.upperOneSided}, expected at least ${relativeHeterogeneity}`,
    );
  }
  const massFor = (s: number) => portionG * (s / allowedRelative) ** 2;
  return {
    samplingConstantG: (100 * relativeHeterogeneity) ** 2 * portionG,
    minimumG: massFor(relativeHeterogeneity),
    safeMinimumG: massFor(limits.upperOneSided),
  };
}
