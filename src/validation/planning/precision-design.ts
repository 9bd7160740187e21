import { InputError, requireInteger, requirePositive, requireProbability } from '../../errors.js';
import { smallestNumber } from '../smallest-number.js';
import { powerForIntermediatePrecision } from './power-for-intermediate-precision.js';
import { powerForStandardDeviation } from './power-for-standard-deviation.js';

/** One level of one analyte whose precision is to be shown. */
export interface PrecisionWish {
  /** Criterion ÷ expected standard deviation, for intermediate precision and for repeatability; null where there is no criterion. */
  readonly intermediateRatio: number | null;
  readonly repeatabilityRatio: number | null;
  /** σ²_day ÷ σ²_digestion that is expected. */
  readonly varianceRatio: number;
}

/** What binds all of them: the power wanted of each criterion, and what the laboratory can give to one level. */
export interface DesignBounds {
  readonly power: number;
  readonly digestionsPerResult: number;
  readonly mostDays: number;
  readonly mostDigestionsPerDay: number;
}

/** Days × digestions of each level. */
export interface PrecisionProposal {
  readonly days: number;
  readonly digestionsPerDay: number;
}

/** Fewer days leave intermediate precision *not shown*, whatever the values. */
const leastDays = 5;

/** Least probability with which a design shows the criteria of one wish. */
export function powerOfDesign(
  wish: PrecisionWish,
  design: PrecisionProposal,
  digestionsPerResult: number,
): number {
  const { days, digestionsPerDay } = design;
  const intermediate =
    wish.intermediateRatio === null
      ? 1
      : powerForIntermediatePrecision(
          { ...design, varianceRatio: wish.varianceRatio, digestionsPerResult },
          wish.intermediateRatio,
        );
  const repeatability =
    wish.repeatabilityRatio === null
      ? 1
      : powerForStandardDeviation(wish.repeatabilityRatio, days * (digestionsPerDay - 1));
  return Math.min(intermediate, repeatability);
}

/**
 * Smallest days × digestions that show the precision criteria of every wish with the wanted power: fewest digestions in all, and of
 * equal ones the one with fewer days. Fewer than 5 days are never proposed.
 *
 * @returns null where no design within the bounds shows all of them
 * @throws InputError no wish, a ratio or a bound that cannot be
 * @example
 * precisionDesign([{ intermediateRatio: 2.4, repeatabilityRatio: null, varianceRatio: 1 }], { power: 0.9, digestionsPerResult: 1, mostDays: 30, mostDigestionsPerDay: 4 }) // => { days: 7, digestionsPerDay: 2 }
 */
export function precisionDesign(
  wishes: readonly PrecisionWish[],
  bounds: DesignBounds,
): PrecisionProposal | null {
  if (wishes.length === 0) throw new InputError('precision criteria: found none, expected at least 1');
  for (const { intermediateRatio, repeatabilityRatio } of wishes) {
    if (intermediateRatio !== null) requirePositive(intermediateRatio, 'criterion ÷ expected');
    if (repeatabilityRatio !== null) requirePositive(repeatabilityRatio, 'criterion ÷ expected');
  }
  requireProbability(bounds.power, 'power');
  requireInteger(bounds.digestionsPerResult, 'digestions of a result', 1);
  requireInteger(bounds.mostDays, 'most days', leastDays);
  requireInteger(bounds.mostDigestionsPerDay, 'most digestions a day', 2);
  const found: PrecisionProposal[] = [];
  const fewest = Math.max(2, bounds.digestionsPerResult);
  for (let digestionsPerDay = fewest; digestionsPerDay <= bounds.mostDigestionsPerDay; digestionsPerDay++) {
    const days = smallestNumber(leastDays, bounds.mostDays, (count) =>
      wishes.every(
        (wish) =>
          powerOfDesign(wish, { days: count, digestionsPerDay }, bounds.digestionsPerResult) >= bounds.power,
      ),
    );
    if (days !== null) found.push({ days, digestionsPerDay });
  }
  const work = (p: PrecisionProposal) => p.days * p.digestionsPerDay;
  return found.sort((a, b) => work(a) - work(b) || a.days - b.days)[0] ?? null;
}
