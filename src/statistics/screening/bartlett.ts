import { compensatedDot, compensatedSum } from '../descriptive/compensated-sum.js';
import { chiSquaredSurvival } from '../distributions/chi-squared.js';
import { relativeVariances, requireGroups } from './group-sizes.js';
import type { HomogeneityTest } from './levene.js';

/**
 * Bartlett's test that groups have one variance. The sharpest for normal data, and misled by any that are not: prefer
 * `leveneTest` where normality is in doubt.
 *
 * @param groups p ≥ 2 groups of n ≥ 2 finite results in one unit
 * @returns χ² with p − 1 degrees of freedom; Infinity where one group, but not all, holds no variation
 * @throws InputError fewer than two groups, a group of fewer than two, or a value that is not finite
 * @see Bartlett 1937, Proc. R. Soc. A 160, 268; NIST/SEMATECH e-Handbook 1.3.5.7
 * @example
 * bartlettTest([[1, 2, 3], [1, 5, 9], [2, 2.5, 3]]).statistic // => 6.3184994
 */
export function bartlettTest(groups: readonly ArrayLike<number>[]): HomogeneityTest {
  requireGroups(groups, 2);
  const p = groups.length;
  const degrees = groups.map((group) => group.length - 1);
  const total = compensatedSum(degrees);
  const relative = relativeVariances(groups);
  const base = { degreesOfFreedom: [p - 1], method: 'Bartlett' };
  if (Math.max(...relative) === 0) {
    return { ...base, statistic: 0, pValue: 1, notes: ['the values of each group are equal'] };
  }
  if (relative.some((v) => v === 0)) {
    const notes = ['a group holds no variation: the statistic is infinite'];
    return { ...base, statistic: Number.POSITIVE_INFINITY, pValue: 0, notes };
  }
  const pooled = compensatedDot(degrees, relative) / total;
  const logs = relative.map((v) => Math.log(pooled / v));
  const correction = 1 + (compensatedSum(degrees.map((d) => 1 / d)) - 1 / total) / (3 * (p - 1));
  const statistic = Math.max(0, compensatedDot(degrees, logs) / correction);
  return { ...base, statistic, pValue: chiSquaredSurvival(statistic, p - 1), notes: [] };
}
