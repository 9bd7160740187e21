import { studentTQuantile } from '../statistics/distributions/student-t.js';
import type { Criterion } from './finding.js';
import { smallestNumber } from './smallest-number.js';
import { edges } from './verdict.js';

const most = 1000;

/** Part of an uncertainty that more units do not lower. */
export interface FixedPart {
  readonly standardUncertainty: number;
  /** Infinity where it is taken as known. */
  readonly degreesOfFreedom: number;
}

/**
 * What would decide an open verdict about a mean, in words: more independent units at the spread and mean found, by the
 * verdict's own rule, t of the Welch–Satterthwaite degrees of freedom of spread ÷ √n and the fixed part.
 *
 * @param estimate mean found, in the unit of the criterion
 * @param spread standard deviation of one independent unit
 * @param fixed what more units do not lower (certified value, amount added); a bare number is a standard uncertainty taken as known
 * @param found number of units behind the estimate
 * @param unit what an independent unit is, in the plural: `days`
 * @example
 * unitsForMean(0, 1.5, 1, 5, { kind: 'within', limit: 1.72, unit: '%', reason: '', owner: '' }, 'days') // => 'With the mean and spread found, about 25 days in all would show it.'
 */
export function unitsForMean(
  estimate: number,
  spread: number,
  fixed: number | FixedPart,
  found: number,
  criterion: Criterion | null,
  unit: string,
): string {
  if (criterion === null) return '';
  const { low, high } = edges(criterion);
  const margin = Math.min(high - estimate, estimate - low);
  if (margin <= 0) return 'The estimate itself does not keep it: look for the cause.';
  const part = typeof fixed === 'number' ? { standardUncertainty: fixed, degreesOfFreedom: Infinity } : fixed;
  const n = smallestNumber(
    Math.max(2, found),
    most,
    (count) => reach(spread / Math.sqrt(count), count, part) <= margin,
  );
  if (n !== null) return `With the mean and spread found, about ${n} ${unit} in all would show it.`;
  return reach(0, most, part) > margin
    ? 'The uncertainty of the reference is too large for it, however many results there are.'
    : `More than ${most} ${unit} would be needed.`;
}

/** t_{0.95,ν}·u of a mean of `count` units. */
function reach(own: number, count: number, fixed: FixedPart): number {
  const variance = own ** 2 + fixed.standardUncertainty ** 2;
  const parts = own ** 4 / (count - 1) + fixed.standardUncertainty ** 4 / fixed.degreesOfFreedom;
  const nu = parts > 0 ? variance ** 2 / parts : Number.POSITIVE_INFINITY;
  return studentTQuantile(0.95, nu) * Math.sqrt(variance);
}
