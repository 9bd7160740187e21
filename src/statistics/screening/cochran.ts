import { requireInteger, requireProbability } from '../../errors.js';
import { compensatedSum } from '../descriptive/compensated-sum.js';
import { fSurvival, fUpperQuantile } from '../distributions/f.js';
import { commonSize, relativeVariances, requireGroups } from './group-sizes.js';
import { allEqual, type OutlierTest } from './outlier-test.js';

/**
 * Cochran's test of the largest variance: its share of the sum of all variances.
 *
 * @param groups p ≥ 2 groups of n ≥ 2 finite results in one unit; where a few groups differ in size, the common size is
 * used and said so
 * @param alpha level of the test, between 0 and 1
 * @returns the share, its limit and its p value by Bonferroni's bound over the groups; `suspects` holds the group
 * @throws InputError fewer than two groups, a group of fewer than two, a value that is not finite, or alpha out of range
 * @see ISO 5725-2:2019, 8.3.3 (clause from memory); Cochran 1941, Ann. Eugen. 11, 47
 * @example
 * cochranTest([[1, 2], [4, 4.5], [3, 3.2]]).statistic // => 0.7751938
 */
export function cochranTest(groups: readonly ArrayLike<number>[], alpha = 0.05): OutlierTest {
  requireGroups(groups, 2);
  const { size, notes } = commonSize(groups);
  const p = groups.length;
  const variances = relativeVariances(groups);
  const total = compensatedSum(variances);
  const critical = cochranCritical(p, size, alpha);
  const base = { critical, alpha, n: p, method: 'Cochran' };
  if (total === 0) {
    const result = { ...base, statistic: 0, pValue: 1, outlying: false, suspects: [] };
    return { ...result, notes: [...notes, allEqual.replace('values', 'values of each group')] };
  }
  const { largest, pValue } = largestVariance(variances, new Array<number>(p).fill(size - 1));
  const statistic = variances[largest]! / total;
  return { ...base, statistic, pValue, outlying: statistic > critical, suspects: [largest], notes };
}

/** The largest of several variances against the others pooled. */
export interface LargestVariance {
  /** Index of the largest. */
  readonly largest: number;
  /** The largest ÷ the others pooled by their degrees of freedom; infinite where those are 0. */
  readonly ratio: number;
  /** By Bonferroni's bound over all of them. */
  readonly pValue: number;
}

/**
 * What Cochran's test says of variances that are known with different degrees of freedom: the largest against the others pooled.
 * With one number of degrees of freedom, `pValue` is alpha where the share of the largest is `cochranCritical`.
 *
 * @param variances p ≥ 2 variances, of which one is above 0
 * @param degreesOfFreedom p numbers above 0
 * @see ISO 5725-2:2019, 8.3.3 (clause from memory); pooling: JCGM 100:2008, 4.2.4
 * @example
 * largestVariance([1, 4, 1], [2, 2, 2]).ratio // => 4
 */
export function largestVariance(
  variances: readonly number[],
  degreesOfFreedom: readonly number[],
): LargestVariance {
  const largest = variances.indexOf(Math.max(...variances));
  const isOther = (_: number, i: number) => i !== largest;
  const freedom = compensatedSum(degreesOfFreedom.filter(isOther));
  const others = compensatedSum(variances.map((v, i) => v * degreesOfFreedom[i]!).filter(isOther));
  const ratio = (variances[largest]! * freedom) / others;
  const p = variances.length;
  return { largest, ratio, pValue: Math.min(1, p * fSurvival(ratio, degreesOfFreedom[largest]!, freedom)) };
}

/**
 * Limit of Cochran's share at level alpha.
 *
 * @param groups number of variances, at least 2
 * @param n results behind each, at least 2
 * @param alpha level, between 0 and 1
 * @throws InputError a parameter outside its range
 * @see ISO 5725-2:2019, 8.3.3 (clause from memory)
 * @example
 * cochranCritical(6, 4, 0.05) // => 0.53211892
 */
export function cochranCritical(groups: number, n: number, alpha: number): number {
  requireInteger(groups, 'number of groups', 2);
  requireInteger(n, 'results in a group', 2);
  requireProbability(alpha, 'alpha');
  return 1 / (1 + (groups - 1) / fUpperQuantile(alpha / groups, n - 1, (groups - 1) * (n - 1)));
}
