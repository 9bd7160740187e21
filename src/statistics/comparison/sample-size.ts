import { InputError } from '../../errors.js';

/** What a design of n results achieves. */
export interface Power {
  /** Results per group, or pairs. */
  readonly n: number;
  /** Probability that the test decides as wanted. */
  readonly power: number;
  readonly method: string;
  readonly notes: readonly string[];
}

/**
 * Smallest n whose power reaches the one wanted, for a power that grows with n.
 *
 * @param power power of n results
 * @param wanted probability between 0 and 1
 * @param least smallest n that makes sense
 * @param most n at which the search gives up
 * @throws InputError not even `most` results reach it
 * @example
 * smallestSampleSize((n) => ({ n, power: 1 - 1 / n, method: '', notes: [] }), 0.9, 2).n // => 10
 */
export function smallestSampleSize(
  power: (n: number) => Power,
  wanted: number,
  least: number,
  most = 1e6,
): Power {
  let low = least;
  let found = power(low);
  if (found.power >= wanted) return found;
  let high = low;
  while (found.power < wanted) {
    if (high >= most) {
      throw new InputError(
        `sample size: found power ${found.power} with ${high} results, expected ${wanted}`,
      );
    }
    low = high;
    high = Math.min(most, high * 2);
    found = power(high);
  }
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    const at = power(middle);
    if (at.power >= wanted) [high, found] = [middle, at];
    else low = middle;
  }
  return found;
}
