import { medianSorted } from 'simple-statistics';
import { requireFinite } from '../../errors.js';

/**
 * Median: the middle value, or the mean of the two middle values.
 *
 * @param values n ≥ 1 finite values in one unit
 * @returns the median in that unit
 * @throws InputError no value, or one that is not finite
 * @see ISO 3534-1:2006, 1.13 (clause from memory)
 * @example
 * median([5, 1, 9, 3]) // => 4
 */
export function median(values: ArrayLike<number>): number {
  requireFinite(values, 'values');
  const sorted = Float64Array.from(values).sort();
  const middle = medianSorted(sorted as unknown as number[]);
  // The mean of two values near the ends of the range overflows when it is formed as a sum.
  if (Number.isFinite(middle)) return middle;
  const half = sorted.length / 2;
  return sorted[half - 1]! / 2 + sorted[half]! / 2;
}
