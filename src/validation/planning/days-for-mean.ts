import { InputError, requireNonNegative, requirePositive, requireProbability } from '../../errors.js';
import { studentTQuantile } from '../../statistics/distributions/student-t.js';
import { smallestNumber } from '../smallest-number.js';

export interface MeanWish {
  /** Largest deviation allowed, expected deviation, in one unit. */
  readonly allowed: number;
  readonly expected: number;
  /** Standard deviation of one day's mean. */
  readonly dayStandardDeviation: number;
  /** Standard uncertainty that days do not lower: certified value, amount added. */
  readonly fixedStandardUncertainty: number;
  readonly power: number;
}

const most = 200;

/**
 * Fewest days whose mean shows a deviation (bias, recovery, difference) within the allowed one with the wanted power: the limit
 * |expected| + t_{0.95}·u must stay inside by the t quantile of the power.
 *
 * @throws InputError a deviation that 200 days cannot show, for instance because the reference is too uncertain
 * @see Julious 2004, Stat. Med. 23, 1921 (sample sizes for equivalence)
 */
export function daysForMean(wish: MeanWish): number {
  requirePositive(wish.allowed, 'allowed deviation');
  requireNonNegative(wish.dayStandardDeviation, 'standard deviation of a day');
  requireNonNegative(wish.fixedStandardUncertainty, 'fixed standard uncertainty');
  requireProbability(wish.power, 'power');
  const room = wish.allowed - Math.abs(wish.expected);
  // Without an expected deviation both edges can fail: half of what may fail goes to each.
  const q = wish.expected === 0 ? (1 + wish.power) / 2 : wish.power;
  const found = smallestNumber(5, most, (days) => {
    const own = wish.dayStandardDeviation / Math.sqrt(days);
    const u = Math.hypot(own, wish.fixedStandardUncertainty);
    const nu = own > 0 ? (u / own) ** 4 * (days - 1) : Number.POSITIVE_INFINITY;
    return room >= (studentTQuantile(0.95, nu) + studentTQuantile(q, nu)) * u;
  });
  if (found !== null) return found;
  throw new InputError(
    `allowed deviation: found ${wish.allowed}, expected one that ${most} days can show (fixed standard uncertainty ${wish.fixedStandardUncertainty})`,
  );
}
