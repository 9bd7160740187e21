import { InputError, requireInteger } from '../../errors.js';
import { compensatedDot } from './compensated-sum.js';
import { scaledDeviations } from './scaled-deviations.js';

/**
 * Autocorrelation coefficient of a sequence: do neighbours resemble each other more than chance would have it?
 *
 * r = Σ (xᵢ − x̄)(xᵢ₋ₖ − x̄) / Σ (xᵢ − x̄)², with the mean and the sum of squares of the whole sequence.
 *
 * @param values n finite values in order of time, not all equal
 * @param lag distance k of the neighbours, from 1 to n − 1
 * @throws InputError lag + 1 or fewer values, one that is not finite, or all values equal
 * @see NIST Statistical Reference Datasets, univariate summary statistics
 * @example
 * autocorrelation([1, 2, 3, 4]) // => 0.25
 */
export function autocorrelation(values: ArrayLike<number>, lag = 1): number {
  requireInteger(lag, 'lag', 1);
  const { deviations } = scaledDeviations(values, lag + 1);
  const total = compensatedDot(deviations, deviations);
  if (total === 0)
    throw new InputError(`values: found ${values.length} equal values, expected some variation`);
  const n = deviations.length;
  return compensatedDot(deviations.subarray(lag), deviations.subarray(0, n - lag)) / total;
}
