import { InputError, requireProbability } from '../../errors.js';
import { smallestNumber } from '../smallest-number.js';
import { type MeanPlan, powerForMean } from './power-for-mean.js';

/** A mean to be shown, and the probability wanted that it will be. */
export interface MeanWish extends MeanPlan {
  readonly power: number;
  /** Fewest days ever proposed; 5 where not given. */
  readonly least?: number;
}

const most = 200;

/**
 * Fewest days whose mean shows a deviation (bias, recovery, difference) within the allowed one with the wanted power.
 *
 * @throws InputError a deviation that 200 days cannot show, for instance because the reference is too uncertain
 * @see Julious 2004, Stat. Med. 23, 1921 (sample sizes for equivalence)
 * @example
 * daysForMean({ allowed: 3, expected: 0, dayStandardDeviation: 1.5, fixedStandardUncertainty: 0, power: 0.9 }) // => 5
 */
export function daysForMean(wish: MeanWish): number {
  requireProbability(wish.power, 'power');
  const found = smallestNumber(wish.least ?? 5, most, (days) => powerForMean(wish, days) >= wish.power);
  if (found !== null) return found;
  throw new InputError(
    `allowed deviation: found ${wish.allowed}, expected one that ${most} days can show (fixed standard uncertainty ${wish.fixedStandardUncertainty})`,
  );
}
