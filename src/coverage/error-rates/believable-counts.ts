import { requireInteger, requireProbability } from '../../errors.js';
import { betaCdf } from '../../statistics/distributions/beta.js';

/** Counts of n that are believed of a probability. */
export interface BelievableCounts {
  readonly low: number;
  readonly high: number;
}

const tail = 0.0005;

/**
 * Counts that a binomial variable leaves with a probability of at most 0.05 % on either side: outside them the probability is not
 * what it should be.
 *
 * @throws InputError a probability outside 0 to 1, fewer than 1 trial
 * @see ISO 11453:1996 (tests of a proportion; clause not cited)
 * @example
 * believableCounts(0.95, 500) // => { low: 458, high: 489 }
 */
export function believableCounts(probability: number, trials: number): BelievableCounts {
  requireProbability(probability, 'probability');
  requireInteger(trials, 'trials', 1);
  const atMost = (k: number) => (k >= trials ? 1 : k < 0 ? 0 : 1 - betaCdf(probability, k + 1, trials - k));
  let low = 0;
  while (low < trials && atMost(low) <= tail) low++;
  let high = low;
  while (high < trials && 1 - atMost(high) > tail) high++;
  return { low, high };
}
