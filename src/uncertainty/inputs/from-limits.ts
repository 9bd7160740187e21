import { InputError, requireFinite } from '../../errors.js';
import { distributionOf } from '../distributions/distribution-of.js';
import { impliedStandardUncertainty } from '../distributions/distribution-parameters.js';
import type { Distribution, InputQuantity, SourceKind } from '../input-quantity.js';
import { described, type InputDescription } from './input-description.js';

/** Shape of the distribution between two limits. */
export type LimitShape =
  | { readonly kind: 'rectangular' | 'triangular' | 'arcsine' }
  /** Half-width of the flat top. */
  | { readonly kind: 'trapezoidal'; readonly topHalfWidth: number }
  /** Half-width within which each limit itself is known. */
  | { readonly kind: 'curvilinear trapezoid'; readonly halfWidthUncertainty: number };

/** A quantity known to lie between two limits. */
export interface LimitedValue extends InputDescription {
  readonly lower: number;
  readonly upper: number;
  readonly shape: LimitShape;
  /** `specification` unless stated. */
  readonly sourceKind?: SourceKind;
  /** `Infinity` unless stated; see `degreesOfFreedomFromReliability`. */
  readonly degreesOfFreedom?: number;
}

/**
 * Input quantity from the limits of a specification: the estimate is the middle of the limits. Where the best estimate
 * is known not to be the middle, the same standard uncertainty (upper − lower)/√12 goes with it.
 *
 * @throws InputError limits that are not finite and in rising order; a shape that does not fit them
 * @see JCGM 100:2008, 4.3.7 to 4.3.9
 * @example
 * const about = { name: 't', description: 'temperature', unit: '°C', source: 'room log', step: 'volume' };
 * fromLimits({ ...about, lower: 96, upper: 104, shape: { kind: 'triangular' } }).standardUncertainty // => 1.6329931619
 */
export function fromLimits(limited: LimitedValue): InputQuantity {
  const { name, lower, upper, shape, degreesOfFreedom = Infinity } = limited;
  requireFinite([lower, upper], `limits of "${name}"`);
  if (!(lower < upper)) {
    throw new InputError(
      `limits of "${name}": found ${lower} and ${upper}, expected the lower limit below the upper`,
    );
  }
  const distribution = { ...shape, halfWidth: (upper - lower) / 2 } as Distribution;
  const estimate = (lower + upper) / 2;
  const standardUncertainty = impliedStandardUncertainty(distribution, estimate)!;
  distributionOf({ name, estimate, standardUncertainty, degreesOfFreedom, distribution });
  return {
    ...described(limited),
    estimate,
    standardUncertainty,
    degreesOfFreedom,
    distribution,
    evaluation: 'B',
    sourceKind: limited.sourceKind ?? 'specification',
  };
}
