import { chiSquaredQuantile } from '../../statistics/distributions/chi-squared.js';
import { smallestNumber } from '../smallest-number.js';
import { type DayComponents, termsOfResult } from './day-components.js';
import { limitsOfVarianceSum } from './limits-of-variance-sum.js';

const mostDays = 100;

function inWords(days: number | null, perDay: number, estimate: number, limit: number): string {
  if (estimate > limit) return 'The estimate itself does not keep it: the spread has to become smaller.';
  if (days === null) {
    return `More than ${mostDays} days would be needed: the estimate is too close to the criterion.`;
  }
  return `With the spread found, about ${days} days of ${Math.round(perDay)} digestions in all would show it.`;
}

/**
 * What would show a repeatability that stays open, in words.
 *
 * @param components what was found
 * @param value standard deviation found and `limit` wanted, in the unit of the results
 */
export function daysForRepeatability(components: DayComponents, value: number, limit: number): string {
  const perDay = components.digestionsPerDay;
  const upper = (days: number) => {
    const nu = Math.max(1, Math.round(days * (perDay - 1)));
    return value * Math.sqrt(nu / chiSquaredQuantile(0.05, nu));
  };
  const days = smallestNumber(components.days.length, mostDays, (count) => upper(count) <= limit);
  return inWords(days, perDay, value, limit);
}

/** What would show an intermediate precision that stays open, in words. */
export function daysForIntermediatePrecision(
  components: DayComponents,
  digestionsPerResult: number,
  limit: number,
): string {
  const [first, second] = termsOfResult(components, digestionsPerResult);
  const upper = (days: number) => {
    const nu = Math.max(1, Math.round(days * (components.digestionsPerDay - 1)));
    const sum = limitsOfVarianceSum(
      { ...first, degreesOfFreedom: days - 1 },
      { ...second, degreesOfFreedom: nu },
      0.05,
    );
    return Math.sqrt(sum.upper);
  };
  const value = Math.sqrt(components.dayVariance + components.digestionVariance / digestionsPerResult);
  const days = smallestNumber(components.days.length, mostDays, (count) => upper(count) <= limit);
  return inWords(days, components.digestionsPerDay, value, limit);
}
