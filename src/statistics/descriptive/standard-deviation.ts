import { compensatedDot } from './compensated-sum.js';
import { requireWithinRange } from './require-within-range.js';
import { scaledDeviations } from './scaled-deviations.js';

/**
 * Sum of squared deviations from the mean, accurate for data with a large common offset: two passes, squares summed
 * with their rounding errors.
 *
 * @param values n ≥ 1 finite values in one unit
 * @returns sum of squares in that unit squared
 * @throws InputError no value, one that is not finite, or a result beyond 1.8e308
 * @see Chan, Golub and LeVeque 1983, Algorithms for computing the sample variance, Am. Stat. 37, 242
 * @example
 * sumOfSquaredDeviations([1e9 + 1, 1e9 + 2, 1e9 + 3]) // => 2
 */
export function sumOfSquaredDeviations(values: ArrayLike<number>): number {
  const { deviations, scale } = scaledDeviations(values);
  return requireWithinRange(
    compensatedDot(deviations, deviations) / scale / scale,
    'the sum of squares',
    'below 1e150',
  );
}

/**
 * Variance of a sample, with n − 1 in the denominator.
 *
 * @param values n ≥ 2 finite values in one unit
 * @returns variance in that unit squared, with n − 1 degrees of freedom
 * @throws InputError fewer than two values, one that is not finite, or a result beyond 1.8e308
 * @see ISO 3534-1:2006, 1.16 (clause from memory)
 * @example
 * variance([10.1, 10.3, 10.2]) // => 0.01
 */
export function variance(values: ArrayLike<number>): number {
  const { deviations, scale } = scaledDeviations(values, 2);
  const scaled = compensatedDot(deviations, deviations) / (values.length - 1);
  return requireWithinRange(scaled / scale / scale, 'the variance', 'below 1e150');
}

/**
 * Standard deviation of a sample, with n − 1 in the denominator.
 *
 * @param values n ≥ 2 finite values in one unit
 * @returns standard deviation in that unit, with n − 1 degrees of freedom
 * @throws InputError fewer than two values, one that is not finite, or a result beyond 1.8e308
 * @see ISO 3534-1:2006, 1.17 (clause from memory); JCGM 100:2008, 4.2.2
 * @example
 * standardDeviation([10.1, 10.3, 10.2]) // => 0.1
 */
export function standardDeviation(values: ArrayLike<number>): number {
  const { deviations, scale } = scaledDeviations(values, 2);
  const scaled = Math.sqrt(compensatedDot(deviations, deviations) / (values.length - 1));
  return requireWithinRange(scaled / scale, 'the standard deviation', 'below 1e308');
}
