import { requireFinite, requireInteger, requireProbability } from '../../errors.js';
import { scaledDeviations } from '../descriptive/scaled-deviations.js';
import { sumOfSquaredDeviations } from '../descriptive/standard-deviation.js';
import { studentTSurvival, studentTUpperQuantile } from '../distributions/student-t.js';
import { allEqual, type OutlierTest, type Side } from './outlier-test.js';

/**
 * Grubbs' test of the value farthest from the mean: G = |x − x̄|/s.
 *
 * @param values n ≥ 3 finite values in one unit
 * @param side end under suspicion, fixed before the data are seen; 'both' takes the farther one
 * @param alpha level of the test, between 0 and 1
 * @returns G, its limit and its p value by Bonferroni's bound over the n values, which is exact for all but small G
 * @throws InputError fewer than three values, one that is not finite, or alpha not between 0 and 1
 * @see Grubbs 1969, Technometrics 11, 1; ISO 5725-2:2019, 8.3.4 (clause from memory)
 * @example
 * grubbsTest([10.1, 10.2, 10.3, 10.2, 12.0]).statistic // => 1.7819926
 */
export function grubbsTest(values: ArrayLike<number>, side: Side = 'both', alpha = 0.05): OutlierTest {
  requireFinite(values, 'values', 3);
  requireProbability(alpha, 'alpha');
  const n = values.length;
  const { deviations } = scaledDeviations(values);
  const critical = grubbsCritical(n, alpha, side === 'both' ? 2 : 1);
  const method = `Grubbs, ${side === 'both' ? 'two-sided' : `${side}est value`}`;
  const base = { critical, alpha, n, method };
  const total = sumOfSquaredDeviations(deviations);
  if (total === 0) {
    return { ...base, statistic: 0, pValue: 1, outlying: false, suspects: [], notes: [allEqual] };
  }
  const suspect = farthest(deviations, side);
  const statistic = Math.abs(deviations[suspect]!) / Math.sqrt(total / (n - 1));
  const rest = sumOfSquaredDeviations(deviations.filter((_, i) => i !== suspect));
  const t = Math.abs(deviations[suspect]!) * Math.sqrt(((n / (n - 1)) * (n - 2)) / rest);
  const sides = side === 'both' ? 2 : 1;
  const pValue = rest === 0 ? 0 : Math.min(1, sides * n * studentTSurvival(t, n - 2));
  return { ...base, statistic, pValue, outlying: statistic > critical, suspects: [suspect], notes: [] };
}

/**
 * Limit of Grubbs' G at level alpha.
 *
 * @param n number of values, at least 3
 * @param alpha level, between 0 and 1
 * @param sides 1 where the end under suspicion is named beforehand, else 2
 * @throws InputError a parameter outside its range
 * @see Grubbs 1969, Technometrics 11, 1
 * @example
 * grubbsCritical(10, 0.05, 2) // => 2.2899541
 */
export function grubbsCritical(n: number, alpha: number, sides: 1 | 2): number {
  requireInteger(n, 'number of values', 3);
  requireProbability(alpha, 'alpha');
  const t = studentTUpperQuantile(alpha / (sides * n), n - 2);
  return (n - 1) / Math.sqrt(n) / Math.sqrt(1 + (n - 2) / (t * t));
}

/**
 * Grubbs' test of the largest and the smallest value together: range over standard deviation.
 *
 * @param values n ≥ 4 finite values in one unit
 * @param alpha level of the test, between 0 and 1
 * @returns the ratio, its limit and its p value by Bonferroni's bound over the pairs
 * @throws InputError fewer than four values, one that is not finite, or alpha not between 0 and 1
 * @see Grubbs 1950, Ann. Math. Statist. 21, 27; David, Hartley and Pearson 1954, Biometrika 41, 482
 * @example
 * grubbsOppositeTest([9.0, 10.2, 10.3, 10.2, 12.0]).statistic // => 2.7999502
 */
export function grubbsOppositeTest(values: ArrayLike<number>, alpha = 0.05): OutlierTest {
  requireFinite(values, 'values', 4);
  requireProbability(alpha, 'alpha');
  const n = values.length;
  const { deviations } = scaledDeviations(values);
  const critical = grubbsOppositeCritical(n, alpha);
  const base = { critical, alpha, n, method: 'Grubbs, largest and smallest value' };
  const total = sumOfSquaredDeviations(deviations);
  if (total === 0) {
    return { ...base, statistic: 0, pValue: 1, outlying: false, suspects: [], notes: [allEqual] };
  }
  const low = farthest(deviations, 'low');
  const high = farthest(deviations, 'high');
  const range = deviations[high]! - deviations[low]!;
  const statistic = range / Math.sqrt(total / (n - 1));
  const rest = total - (range * range) / 2;
  const t = rest > 0 ? range * Math.sqrt((n - 2) / 2 / rest) : Number.POSITIVE_INFINITY;
  const pValue = Math.min(1, n * (n - 1) * studentTSurvival(t, n - 2));
  return { ...base, statistic, pValue, outlying: statistic > critical, suspects: [low, high], notes: [] };
}

/**
 * Limit of range over standard deviation at level alpha.
 *
 * @param n number of values, at least 4
 * @param alpha level, between 0 and 1
 * @throws InputError a parameter outside its range
 * @example
 * grubbsOppositeCritical(10, 0.05) // => 3.6849651
 */
export function grubbsOppositeCritical(n: number, alpha: number): number {
  requireInteger(n, 'number of values', 4);
  requireProbability(alpha, 'alpha');
  const pairs = n * (n - 1);
  const t = studentTUpperQuantile(alpha / pairs, n - 2);
  return Math.sqrt((2 * (n - 1)) / (1 + (n - 2) / (t * t)));
}

function farthest(deviations: Float64Array, side: Side): number {
  const distance = (i: number) => {
    const d = deviations[i]!;
    return side === 'high' ? d : side === 'low' ? -d : Math.abs(d);
  };
  let found = 0;
  for (let i = 1; i < deviations.length; i++) if (distance(i) > distance(found)) found = i;
  return found;
}
