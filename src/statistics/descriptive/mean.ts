import { requireFinite } from '../../errors.js';
import { type CompensatedTotal, compensatedTotal, productError } from './compensated-sum.js';
import { powerOfTwoScale } from './power-of-two-scale.js';

/**
 * Arithmetic mean, correctly rounded in all but freak cases: sum and division are carried in twice the working precision.
 *
 * @param values n ≥ 1 finite values in one unit
 * @returns the mean in that unit
 * @throws InputError no value, or one that is not finite
 * @see ISO 3534-1:2006, 1.15 (clause from memory)
 * @example
 * mean([10.1, 10.3, 10.2]) // => 10.2
 */
export function mean(values: ArrayLike<number>): number {
  requireFinite(values, 'values');
  const scale = powerOfTwoScale(values);
  if (scale === 1) return quotient(compensatedTotal(values), values.length);
  const scaled = Float64Array.from(values, (x) => x * scale);
  return quotient(compensatedTotal(scaled), values.length) / scale;
}

function quotient({ sum, rest }: CompensatedTotal, n: number): number {
  const first = sum / n;
  const product = first * n;
  return first + (sum - product - productError(first, n, product) + rest) / n;
}
