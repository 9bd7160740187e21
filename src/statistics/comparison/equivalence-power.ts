import { InputError, requireFinite, requirePositive, requireProbability } from '../../errors.js';
import { integrate } from '../arithmetic/gauss-legendre.js';
import { chiSquaredQuantile, chiSquaredUpperQuantile } from '../distributions/chi-squared.js';
import { gammaPrefactor } from '../distributions/incomplete-gamma.js';
import { normalCdf } from '../distributions/normal.js';
import { studentTUpperQuantile } from '../distributions/student-t.js';
import { type Power, smallestSampleSize } from './sample-size.js';
import type { TTestKind } from './t-test-power.js';

/** Two one-sided tests as planned. */
export interface EquivalenceDesign {
  readonly kind: TTestKind;
  /** True difference, between the limits. */
  readonly difference: number;
  readonly low: number;
  readonly high: number;
  /** True standard deviation of a value, for pairs of a difference. */
  readonly standardDeviation: number;
  /** Level of each one-sided test; 0.05 by default. */
  readonly alpha?: number;
}

/**
 * Power of two one-sided tests: the probability that they show the difference to lie between the limits, both tests
 * sharing one standard deviation.
 *
 * @param n values, pairs, or values per group; above 1, need not be whole
 * @throws InputError a parameter outside its range
 * @see Phillips 1990, J. Pharmacokinet. Biopharm. 18, 137 (Owen's Q)
 * @example
 * equivalencePower(27, { kind: 'paired', difference: 0.2, low: -1, high: 1, standardDeviation: 1 }).power // => 0.99181167
 */
export function equivalencePower(n: number, design: EquivalenceDesign): Power {
  const { kind, difference, low, high, standardDeviation, alpha = 0.05 } = design;
  requireFinite([difference, low, high], 'difference and limits');
  requirePositive(standardDeviation, 'standard deviation');
  requireProbability(2 * alpha, 'twice alpha');
  if (low >= high) throw new InputError(`limits: found ${low} and ${high}, expected the lower one first`);
  const groups = kind === 'two-sample' ? 2 : 1;
  const nu = groups * (n - 1);
  const error = standardDeviation * Math.sqrt(groups / n);
  const critical = studentTUpperQuantile(alpha, nu);
  const [below, above] = [(low - difference) / error, (high - difference) / error];
  const power = withinLimits(nu, critical, below, above);
  return { n, power, method: `two one-sided t tests, ${kind}`, notes: [] };
}

/**
 * Smallest number of values, pairs, or values per group with which two one-sided tests reach a power.
 *
 * @param power between 0 and 1
 * @throws InputError a parameter outside its range, or a difference that is not between the limits
 * @example
 * equivalenceSampleSize(0.9, { kind: 'two-sample', difference: 0.2, low: -1, high: 1, standardDeviation: 1 }).n // => 28
 */
export function equivalenceSampleSize(power: number, design: EquivalenceDesign): Power {
  requireProbability(power, 'power');
  const { difference, low, high } = design;
  if (!(difference > low && difference < high)) {
    throw new InputError(`difference: found ${difference}, expected a number between ${low} and ${high}`);
  }
  return smallestSampleSize((n) => equivalencePower(n, design), power, 2);
}

/** Expectation over s = √(χ²/ν) of P(below + t·s < Z < above − t·s). */
function withinLimits(nu: number, critical: number, below: number, above: number): number {
  const far = 1e-18;
  const start = Math.sqrt(chiSquaredQuantile(far, nu) / nu);
  const end = Math.min((above - below) / 2 / critical, Math.sqrt(chiSquaredUpperQuantile(far, nu) / nu));
  if (end <= start) return 0;
  const integrand = (s: number) => {
    const density = (nu / s) * gammaPrefactor(nu / 2, (nu * s * s) / 2);
    const [from, to] = [below + critical * s, above - critical * s];
    return density * (from > 0 ? normalCdf(-from) - normalCdf(-to) : normalCdf(to) - normalCdf(from));
  };
  let sum = 0;
  for (let k = 0; k < 8; k++) {
    const width = (end - start) / 8;
    sum += integrate(integrand, start + k * width, start + (k + 1) * width, 24);
  }
  return Math.min(1, Math.max(0, sum));
}
