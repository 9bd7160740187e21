import { quantileSorted } from 'simple-statistics';
import { InputError, requireFinite } from '../../errors.js';
import { requireWithinRange } from './require-within-range.js';

/** Position of the p-quantile among n sorted values: (n − 1)p + 1, or (n + 1)p. */
export type QuantileRule = '(n - 1)p + 1' | '(n + 1)p';

/**
 * Quantile of a sample by linear interpolation between sorted values.
 *
 * @param values n ≥ 1 finite values in one unit
 * @param p from 0 to 1
 * @param rule types 7 (default) and 6 of Hyndman and Fan
 * @returns the quantile in the unit of the data
 * @throws InputError no value, one that is not finite, or p outside 0 to 1
 * @see Hyndman and Fan 1996, Sample quantiles in statistical packages, Am. Stat. 50, 361
 * @example
 * sampleQuantile([1, 2, 3, 4], 0.25) // => 1.75
 */
export function sampleQuantile(
  values: ArrayLike<number>,
  p: number,
  rule: QuantileRule = '(n - 1)p + 1',
): number {
  requireFinite(values, 'values');
  if (!(p >= 0 && p <= 1)) throw new InputError(`probability: found ${p}, expected a number from 0 to 1`);
  // Halved so that the difference of two values at opposite ends of the range does not overflow.
  const sorted = Array.from(values, (x) => x / 2).sort((a, b) => a - b);
  const n = sorted.length;
  if (n === 1) return sorted[0]! * 2;
  const fraction = rule === '(n + 1)p' ? ((n + 1) * p - 1) / (n - 1) : p;
  return 2 * quantileSorted(sorted, Math.min(1, Math.max(0, fraction)));
}

/**
 * Interquartile range scaled to estimate the standard deviation of normal data (nIQR).
 *
 * @param values n ≥ 2 finite values in one unit
 * @param constant 0.7413 as printed in the guides, or 1/(2·0.67449) exactly
 * @returns nIQR in the unit of the data
 * @throws InputError fewer than two values, one that is not finite, or a result beyond 1.8e308
 * @see ISO 13528:2022, C.2.3 (clause from memory)
 * @example
 * normalisedInterquartileRange([1, 2, 3, 4]) // => 1.11195
 */
export function normalisedInterquartileRange(values: ArrayLike<number>, constant = 0.7413): number {
  requireFinite(values, 'values', 2);
  const range = sampleQuantile(values, 0.75) / 2 - sampleQuantile(values, 0.25) / 2;
  return requireWithinRange(2 * constant * range, 'the interquartile range', 'below 1e308');
}
