import { InputError, requireInteger, requireProbability } from '../../errors.js';
import { mean } from '../descriptive/mean.js';
import { scaledDeviations } from '../descriptive/scaled-deviations.js';
import { sumOfSquaredDeviations } from '../descriptive/standard-deviation.js';
import { fSurvival, fUpperQuantile } from '../distributions/f.js';
import { studentTSurvival, studentTUpperQuantile } from '../distributions/student-t.js';
import { commonSize, relativeVariances, requireGroups } from './group-sizes.js';

/** Mandel's consistency statistics of each group. */
export interface MandelConsistency {
  /** Deviation of the mean of each group from the mean of means, over the standard deviation of the means. */
  readonly h: readonly number[];
  /** Standard deviation of each group over the root of the mean variance. */
  readonly k: readonly number[];
  /** Two-sided p value of each h. */
  readonly hPValues: readonly number[];
  /** Upper p value of each k. */
  readonly kPValues: readonly number[];
  readonly hCritical: number;
  readonly kCritical: number;
  readonly alpha: number;
  readonly groups: number;
  readonly n: number;
  readonly method: string;
  readonly notes: readonly string[];
}

/**
 * Mandel's h and k: is a group's mean, or its spread, unlike that of the others? Each is judged alone, at level alpha.
 *
 * @param groups p ≥ 3 groups of n ≥ 2 finite results in one unit; where a few differ in size, the limit of k is that of
 * the common size and said so
 * @param alpha level, between 0 and 1
 * @throws InputError fewer than three groups, a group of fewer than two, a value that is not finite, or alpha out of range
 * @see ISO 5725-2:2019, 8.3.1 (clause from memory); Mandel 1985, J. Qual. Technol. 17, 197
 * @example
 * mandelConsistency([[1, 2], [4, 4.5], [3, 3.2]]).h[0] // => -1.0498705
 */
export function mandelConsistency(groups: readonly ArrayLike<number>[], alpha = 0.05): MandelConsistency {
  if (groups.length < 3) throw new InputError(`groups: found ${groups.length}, expected at least 3`);
  requireGroups(groups, 2);
  const p = groups.length;
  const { size, notes } = commonSize(groups);
  const { deviations } = scaledDeviations(groups.map(mean));
  const spread = Math.sqrt(sumOfSquaredDeviations(deviations) / (p - 1));
  const variances = relativeVariances(groups);
  const within = mean(variances);
  if (spread === 0) notes.push('the means are equal: every h is 0');
  if (within === 0) notes.push('the values of each group are equal: every k is 0');
  const h = Array.from(deviations, (d) => (spread === 0 ? 0 : d / spread));
  const k = variances.map((v) => (within === 0 ? 0 : Math.sqrt(v / within)));
  return {
    h,
    k,
    hPValues: h.map((value) => hProbability(value, p)),
    kPValues: k.map((value) => kProbability(value, p, size)),
    hCritical: mandelHCritical(p, alpha),
    kCritical: mandelKCritical(p, size, alpha),
    alpha,
    groups: p,
    n: size,
    method: 'Mandel h and k',
    notes,
  };
}

/**
 * Limit of |h| at level alpha.
 *
 * @param groups number of means, at least 3
 * @param alpha level, between 0 and 1
 * @throws InputError a parameter outside its range
 * @example
 * mandelHCritical(8, 0.05) // => 1.7490784
 */
export function mandelHCritical(groups: number, alpha: number): number {
  requireInteger(groups, 'number of groups', 3);
  requireProbability(alpha, 'alpha');
  const t = studentTUpperQuantile(alpha / 2, groups - 2);
  return (groups - 1) / Math.sqrt(groups) / Math.sqrt(1 + (groups - 2) / (t * t));
}

/**
 * Limit of k at level alpha.
 *
 * @param groups number of standard deviations, at least 2
 * @param n results behind each, at least 2
 * @param alpha level, between 0 and 1
 * @throws InputError a parameter outside its range
 * @example
 * mandelKCritical(8, 3, 0.05) // => 1.6689246
 */
export function mandelKCritical(groups: number, n: number, alpha: number): number {
  requireInteger(groups, 'number of groups', 2);
  requireInteger(n, 'results in a group', 2);
  requireProbability(alpha, 'alpha');
  const f = fUpperQuantile(alpha, n - 1, (groups - 1) * (n - 1));
  return Math.sqrt(groups / (1 + (groups - 1) / f));
}

function hProbability(h: number, groups: number): number {
  const left = 1 - (h * h * groups) / (groups - 1) ** 2;
  const t =
    left > 0
      ? (Math.abs(h) * Math.sqrt((groups * (groups - 2)) / left)) / (groups - 1)
      : Number.POSITIVE_INFINITY;
  return 2 * studentTSurvival(t, groups - 2);
}

function kProbability(k: number, groups: number, n: number): number {
  const share = Math.min(1, (k * k) / groups);
  const f = share === 1 ? Number.POSITIVE_INFINITY : ((groups - 1) * share) / (1 - share);
  return fSurvival(f, n - 1, (groups - 1) * (n - 1));
}
