import { studentTQuantile } from '../statistics/distributions/student-t.js';
import type { Criterion } from './finding.js';
import { smallestNumber } from './smallest-number.js';
import { edges } from './verdict.js';

const most = 1000;

/**
 * What would decide an open verdict about a mean, in words: more independent units at the spread and mean found.
 *
 * @param estimate mean found, in the unit of the criterion
 * @param spread standard deviation of one independent unit
 * @param fixed standard uncertainty that more units do not lower (certified value, amount added)
 * @param found number of units behind the estimate
 * @param unit what an independent unit is, in the plural: `days`
 */
export function unitsForMean(
  estimate: number,
  spread: number,
  fixed: number,
  found: number,
  criterion: Criterion | null,
  unit: string,
): string {
  if (criterion === null) return '';
  const { low, high } = edges(criterion);
  const margin = Math.min(high - estimate, estimate - low);
  if (margin <= 0) return 'The estimate itself does not keep it: look for the cause.';
  const n = smallestNumber(Math.max(2, found), most, (count) => {
    const u = Math.hypot(spread / Math.sqrt(count), fixed);
    return studentTQuantile(0.95, count - 1) * u <= margin;
  });
  if (n !== null) return `With the mean and spread found, about ${n} ${unit} in all would show it.`;
  return fixed * 1.645 > margin
    ? 'The uncertainty of the reference is too large for it, however many results there are.'
    : `More than ${most} ${unit} would be needed.`;
}
