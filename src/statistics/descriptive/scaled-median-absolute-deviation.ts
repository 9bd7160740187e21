import { requireFinite } from '../../errors.js';
import { median } from './median.js';
import { requireWithinRange } from './require-within-range.js';

/** 1/Φ⁻¹(¾): makes the median absolute deviation estimate the standard deviation of normal data. */
export const normalConsistency = 1.482602218505602;

/**
 * Median absolute deviation from the median, scaled to estimate the standard deviation of normal data. Half of the data
 * may be wild without carrying it away; it is 0 where more than half of them are equal.
 *
 * @param values n ≥ 1 finite values in one unit
 * @param constant scale factor: exact by default, 1.483 as ISO 13528 rounds it, 1 for the raw deviation
 * @returns scaled deviation in the unit of the data
 * @throws InputError no value, one that is not finite, or a result beyond 1.8e308
 * @see ISO 13528:2022, C.2.2 (clause from memory)
 * @example
 * scaledMedianAbsoluteDeviation([1, 2, 3, 4, 100], 1.483) // => 1.483
 */
export function scaledMedianAbsoluteDeviation(
  values: ArrayLike<number>,
  constant: number = normalConsistency,
): number {
  requireFinite(values, 'values');
  const centre = median(values) / 2;
  const halves = Float64Array.from(values, (x) => Math.abs(x / 2 - centre));
  return requireWithinRange(
    2 * constant * median(halves),
    'the scaled median absolute deviation',
    'below 1e308',
  );
}
