import { sampleQuantile } from './sample-quantile.js';

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
  return sampleQuantile(values, 0.5);
}
