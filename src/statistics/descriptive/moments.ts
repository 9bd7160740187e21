import { InputError } from '../../errors.js';
import { compensatedDot, compensatedSum } from './compensated-sum.js';
import { scaledDeviations } from './scaled-deviations.js';

/** Shape of a sample by its central moments m₂, m₃, m₄ (with n in the denominator). */
export interface Shape {
  /** g₁ = m₃ / m₂^(3/2). */
  readonly skewness: number;
  /** g₂ = m₄ / m₂² − 3, 0 for normal data. */
  readonly excessKurtosis: number;
  readonly n: number;
}

/**
 * Skewness and excess kurtosis of a sample.
 *
 * @param values n ≥ 2 finite values, not all equal
 * @throws InputError fewer than two values, one that is not finite, or all values equal
 * @see ISO 3534-1:2006, 1.20 and 1.21 (clauses from memory)
 * @example
 * shape([1, 2, 3, 10]).skewness // => 1.0182338
 */
export function shape(values: ArrayLike<number>): Shape {
  const { deviations } = scaledDeviations(values, 2);
  const n = deviations.length;
  const squares = deviations.map((d) => d * d);
  const second = compensatedSum(squares) / n;
  if (second === 0) throw new InputError(`values: found ${n} equal values, expected some variation`);
  return {
    skewness: compensatedDot(squares, deviations) / n / second ** 1.5,
    excessKurtosis: compensatedDot(squares, squares) / n / second ** 2 - 3,
    n,
  };
}
