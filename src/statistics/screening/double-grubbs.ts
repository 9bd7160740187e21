import { requireFinite, requireInteger, requireProbability } from '../../errors.js';
import { findRoot } from '../arithmetic/find-root.js';
import { integrate } from '../arithmetic/gauss-legendre.js';
import { remembered } from '../arithmetic/remembered.js';
import { scaledDeviations } from '../descriptive/scaled-deviations.js';
import { sumOfSquaredDeviations } from '../descriptive/standard-deviation.js';
import { type DeviateMaximum, deviateMaximum } from './deviate-maximum.js';
import { allEqual, ascendingPositions, type OutlierTest } from './outlier-test.js';

/**
 * Grubbs' test of the two largest or the two smallest values: sum of squares without them over that of all. Small ratios
 * are significant.
 *
 * @param values n ≥ 4 finite values in one unit
 * @param side end under suspicion
 * @param alpha level of the test, between 0 and 1, for the side named; ISO 5725-2 tests both ends at alpha/2 each
 * @returns ratio, limit and p value by numerical integration of the exact distribution
 * @throws InputError fewer than four values, one that is not finite, or alpha not between 0 and 1
 * @see Grubbs and Beck 1972, Technometrics 14, 847; ISO 5725-2:2019, 8.3.4 (clause from memory)
 * @example
 * doubleGrubbsTest([10.1, 10.2, 10.3, 10.2, 12.0, 12.1], 'high').outlying // => true
 */
export function doubleGrubbsTest(values: ArrayLike<number>, side: 'high' | 'low', alpha = 0.05): OutlierTest {
  requireFinite(values, 'values', 4);
  const n = values.length;
  const critical = doubleGrubbsCritical(n, alpha);
  const base = { critical, alpha, n, method: `Grubbs, two ${side}est values` };
  const { deviations } = scaledDeviations(values);
  const total = sumOfSquaredDeviations(deviations);
  if (total === 0) {
    return { ...base, statistic: 1, pValue: 1, outlying: false, suspects: [], notes: [allEqual] };
  }
  const order = ascendingPositions(values);
  const suspects = side === 'high' ? order.slice(-2) : order.slice(0, 2);
  const rest = sumOfSquaredDeviations(deviations.filter((_, i) => !suspects.includes(i)));
  const statistic = rest / total;
  const pValue = doubleGrubbsProbability(statistic, n);
  return { ...base, statistic, pValue, outlying: statistic < critical, suspects, notes: [] };
}

/**
 * Limit of the ratio for two outlying values at one end, at level alpha.
 *
 * @param n number of values, at least 4
 * @param alpha level, between 0 and 1
 * @throws InputError a parameter outside its range
 * @example
 * doubleGrubbsCritical(10, 0.025) // => 0.18645237
 */
export function doubleGrubbsCritical(n: number, alpha: number): number {
  requireInteger(n, 'number of values', 4);
  requireProbability(alpha, 'alpha');
  return limit(n, alpha);
}

const limit = remembered((n: number, alpha: number) =>
  findRoot((ratio) => doubleGrubbsProbability(ratio, n) - alpha, 0, 1, 1e-12),
);

/**
 * Probability that the ratio for the two largest of n normal values is at most `ratio`.
 *
 * Given the n − 2 others, the pair is a point in the plane of (mean of the pair, half its difference), in units of the
 * root of the others' sum of squares: its direction is uniform and independent of its distance ρ, and the ratio is
 * 1/(1 + ρ²). Both values exceed the largest of the others, M, where ρ·c(θ) > M. The pairs exclude each other, so the
 * probability is that of one pair times their number.
 *
 * @param ratio from 0 to 1
 * @param n at least 4
 * @example
 * doubleGrubbsProbability(0.1862, 10) // => 0.024888821
 */
export function doubleGrubbsProbability(ratio: number, n: number): number {
  if (ratio <= 0) return 0;
  const others = deviateMaximum(n - 2);
  const widest = Math.atan(Math.sqrt(n / (n - 2)));
  const reach = (theta: number) =>
    Math.cos(theta) * Math.sqrt(n / (2 * (n - 2))) - Math.sin(theta) / Math.SQRT2;
  // Beyond this direction the largest of the others limits the pair; before it the ratio alone does.
  const top = Math.sqrt((n - 3) / (n - 2));
  const limited = (theta: number) => reach(theta) * Math.sqrt(1 / ratio - 1) - top;
  const split = limited(0) > 0 ? findRoot(limited, 0, widest) : 0;
  const free = split * ratio ** ((n - 3) / 2);
  const bound = integrate((theta) => withinPair(reach(theta), ratio, n, others), split, widest, 48);
  return Math.min(1, ((n * (n - 1)) / 2 / Math.PI) * (free + bound));
}

/** Integral of F_M(c·√(1/g − 1)) over d g^((n − 3)/2) from 0 to the ratio, in one direction. */
function withinPair(reach: number, ratio: number, n: number, others: DeviateMaximum): number {
  if (reach <= 0) return 0;
  const k = n - 2;
  const toMaximum = Math.sqrt((k - 1) / k);
  const certain = reach ** 2 / (reach ** 2 + toMaximum ** 2);
  const possible = Math.min(ratio, reach ** 2 / (reach ** 2 + (others.low * toMaximum) ** 2));
  const power = (n - 3) / 2;
  if (certain >= possible) return possible ** power;
  const partly = integrate(
    (g) => others.cdf((reach * Math.sqrt(1 / g - 1)) / toMaximum) * power * g ** (power - 1),
    certain,
    possible,
    48,
  );
  return certain ** power + partly;
}
