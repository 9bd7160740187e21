import { requireFinite, requireInteger, requirePositive, requireProbability } from '../../errors.js';
import { integrate } from '../arithmetic/gauss-legendre.js';
import { betaPrefactor } from '../distributions/incomplete-beta.js';
import { noncentralTCdf, noncentralTSurvival } from '../distributions/noncentral-t.js';
import { studentTUpperQuantile } from '../distributions/student-t.js';
import { type Power, smallestSampleSize } from './sample-size.js';

/** A Welch test as planned: two groups whose standard deviations differ. */
export interface WelchDesign {
  /** True difference to be found. */
  readonly difference: number;
  /** True standard deviations of a value in the two groups. */
  readonly standardDeviations: readonly [number, number];
  /** Level; 0.05 by default. */
  readonly alpha?: number;
  /** 2 by default; 1 tests against a difference of the sign of `difference`. */
  readonly sides?: 1 | 2;
}

/**
 * Power of Welch's t test, exactly: given the share B of the first group in the pooled χ², the test is one of a
 * noncentral t variable with ν₁ + ν₂ degrees of freedom; B has a beta distribution, over which the power is integrated.
 *
 * @param n1 values in the first group, at least 2
 * @param n2 values in the second group, at least 2
 * @returns `n` of the result is n1
 * @throws InputError a parameter outside its range
 * @example
 * welchPower(10, 10, { difference: 1, standardDeviations: [1, 1] }).power // => 0.55634048
 */
export function welchPower(n1: number, n2: number, design: WelchDesign): Power {
  const { difference, standardDeviations, alpha = 0.05, sides = 2 } = design;
  requireInteger(n1, 'values in the first group', 2);
  requireInteger(n2, 'values in the second group', 2);
  requireFinite([difference], 'difference');
  for (const s of standardDeviations) requirePositive(s, 'standard deviation');
  requireProbability(alpha, 'alpha');
  const [v1, v2] = [standardDeviations[0] ** 2 / n1, standardDeviations[1] ** 2 / n2];
  const [nu1, nu2] = [n1 - 1, n2 - 1];
  const nu = nu1 + nu2;
  const delta = Math.abs(difference) / Math.sqrt(v1 + v2);
  const given = (share: number) => {
    const [u1, u2] = [(v1 * share * nu) / nu1, (v2 * (1 - share) * nu) / nu2];
    const welch = (u1 + u2) ** 2 / (u1 ** 2 / nu1 + u2 ** 2 / nu2);
    const limit = studentTUpperQuantile(alpha / sides, welch) * Math.sqrt((u1 + u2) / (v1 + v2));
    const wrongTail = sides === 2 ? noncentralTCdf(-limit, nu, delta) : 0;
    return noncentralTSurvival(limit, nu, delta) + wrongTail;
  };
  // With B = sin²φ the beta density has no poles.
  const density = (phi: number) =>
    (2 * betaPrefactor(nu1 / 2, nu2 / 2, Math.sin(phi) ** 2, Math.cos(phi) ** 2)) /
    (Math.sin(phi) * Math.cos(phi));
  const power = integrate((phi) => density(phi) * given(Math.sin(phi) ** 2), 0, Math.PI / 2, 64);
  return { n: n1, power, method: `Welch t test, ${sides}-sided, ${n1} and ${n2} values`, notes: [] };
}

/**
 * Smallest equal number of values per group with which Welch's test reaches a power.
 *
 * @param power between 0 and 1
 * @throws InputError a parameter outside its range, or no difference to find
 * @example
 * welchSampleSize(0.9, { difference: 1, standardDeviations: [1, 1] }).n // => 23
 */
export function welchSampleSize(power: number, design: WelchDesign): Power {
  requireProbability(power, 'power');
  requirePositive(Math.abs(design.difference), 'size of the difference');
  return smallestSampleSize((n) => welchPower(n, n, design), power, 2, 1e4);
}
