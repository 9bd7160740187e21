import { InputError } from '../../errors.js';
import type { ConfidenceLimits, Criterion } from '../../validation/finding.js';

/** An estimate with its one-sided limits on a scale where the criterion is 1. */
export interface RelativeToCriterion {
  readonly estimate: number;
  readonly low: number;
  readonly high: number;
}

/** Middle and half-width of what a criterion allows on both sides. */
function band({ limit, lower }: Criterion): { middle: number; half: number } {
  const low = lower ?? -limit;
  return { middle: (limit + low) / 2, half: (limit - low) / 2 };
}

/**
 * Estimate and one-sided limits on one scale for all criteria: at most 1 is allowed. `at most` is divided by the limit,
 * `at least` divides it, `within` becomes the distance from the middle of the band in half-widths (−1 to 1 is allowed).
 *
 * @returns `null` where the criterion leaves no room to be scaled by (a limit of zero), or an `at least` estimate is not positive
 * @throws InputError the limits are not in order
 * @example
 * relativeToCriterion(2, { lowerOneSided: 1, upperOneSided: 3, low: 1, high: 3 }, { kind: 'at most', limit: 4, unit: '', reason: '', owner: '' })?.high // => 0.75
 */
export function relativeToCriterion(
  estimate: number,
  limits: ConfidenceLimits,
  criterion: Criterion,
): RelativeToCriterion | null {
  const { lowerOneSided, upperOneSided } = limits;
  if (!(lowerOneSided <= upperOneSided)) {
    throw new InputError(`limits: found ${lowerOneSided} to ${upperOneSided}, expected them in order`);
  }
  if (criterion.kind === 'at least') {
    if (!(estimate > 0 && criterion.limit > 0)) return null;
    const high = lowerOneSided > 0 ? criterion.limit / lowerOneSided : Number.POSITIVE_INFINITY;
    return { estimate: criterion.limit / estimate, low: criterion.limit / upperOneSided, high };
  }
  const { middle, half } =
    criterion.kind === 'within' ? band(criterion) : { middle: 0, half: criterion.limit };
  if (!(half > 0)) return null;
  const scaled = (value: number): number => (value - middle) / half;
  return { estimate: scaled(estimate), low: scaled(lowerOneSided), high: scaled(upperOneSided) };
}
