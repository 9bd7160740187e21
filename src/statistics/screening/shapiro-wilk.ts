import { InputError, requireFinite } from '../../errors.js';
import { compensatedDot } from '../descriptive/compensated-sum.js';
import { scaledDeviations } from '../descriptive/scaled-deviations.js';
import { normalQuantile, normalSurvival } from '../distributions/normal.js';
import type { NormalityTest } from './normality-test.js';
import { allEqual } from './outlier-test.js';

// Polynomials of Royston's algorithm, from the constant term on.
const lastWeight = [0, 0.221157, -0.147981, -2.07119, 4.434685, -2.706056];
const nextWeight = [0, 0.042981, -0.293762, -1.752461, 5.682633, -3.582633];
const smallMean = [0.544, -0.39978, 0.025054, -6.714e-4];
const smallSpread = [1.3822, -0.77857, 0.062767, -0.0020322];
const largeMean = [-1.5861, -0.31082, -0.083751, 0.0038915];
const largeSpread = [-0.4803, -0.082676, 0.0030302];

/**
 * Shapiro and Wilk's test of normality, by Royston's approximations of its weights and of its distribution.
 *
 * @param values 3 to 5000 finite values in one unit
 * @returns W and its p value; the approximations hold to about three figures of p
 * @throws InputError fewer than 3 or more than 5000 values, or one that is not finite
 * @see Royston 1995, Algorithm AS R94, Appl. Statist. 44, 547; Shapiro and Wilk 1965, Biometrika 52, 591
 * @example
 * shapiroWilk([148, 154, 158, 160, 161, 162, 166, 170, 182, 195, 236]).statistic // => 0.78881469
 */
export function shapiroWilk(values: ArrayLike<number>): NormalityTest {
  requireFinite(values, 'values', 3);
  const n = values.length;
  if (n > 5000) throw new InputError(`values: found ${n}, expected at most 5000`);
  const { deviations } = scaledDeviations(values);
  deviations.sort();
  const total = compensatedDot(deviations, deviations);
  const base = { n, method: 'Shapiro-Wilk (AS R94)' };
  if (total === 0) return { ...base, statistic: 1, pValue: 1, notes: [allEqual] };
  // 1 − W is formed from the correlation r as (1 − r)(1 + r), so that a W near 1 keeps its digits.
  const weights = weightsFor(n);
  const r = compensatedDot(weights, deviations) / Math.sqrt(total * compensatedDot(weights, weights));
  const complement = Math.max(0, (1 - r) * (1 + r));
  return { ...base, statistic: 1 - complement, pValue: pValueOf(complement, n), notes: [] };
}

/** Antisymmetric weights of the ascending values. */
function weightsFor(n: number): Float64Array {
  const weights = new Float64Array(n);
  const half = Math.floor(n / 2);
  const set = (i: number, value: number) => {
    weights[n - 1 - i] = value;
    weights[i] = -value;
  };
  if (n === 3) {
    set(0, Math.SQRT1_2);
    return weights;
  }
  const scores = Array.from({ length: half }, (_, i) => -normalQuantile((i + 0.625) / (n + 0.25)));
  const sum = 2 * compensatedDot(scores, scores);
  const u = 1 / Math.sqrt(n);
  const last = polynomial(lastWeight, u) + scores[0]! / Math.sqrt(sum);
  set(0, last);
  let left = sum - 2 * scores[0]! ** 2;
  let room = 1 - 2 * last ** 2;
  if (n > 5) {
    const next = polynomial(nextWeight, u) + scores[1]! / Math.sqrt(sum);
    set(1, next);
    left -= 2 * scores[1]! ** 2;
    room -= 2 * next ** 2;
  }
  const factor = Math.sqrt(left / room);
  for (let i = n > 5 ? 2 : 1; i < half; i++) set(i, scores[i]! / factor);
  return weights;
}

function pValueOf(complement: number, n: number): number {
  if (n === 3) {
    const angle = Math.asin(Math.sqrt(1 - complement)) - Math.PI / 3;
    return Math.min(1, Math.max(0, (6 / Math.PI) * angle));
  }
  if (complement === 0) return 1;
  const y = Math.log(complement);
  if (n > 11) {
    const x = Math.log(n);
    return normalSurvival((y - polynomial(largeMean, x)) / Math.exp(polynomial(largeSpread, x)));
  }
  const limit = -2.273 + 0.459 * n;
  if (y >= limit) return 0;
  const z = -Math.log(limit - y) - polynomial(smallMean, n);
  return normalSurvival(z / Math.exp(polynomial(smallSpread, n)));
}

function polynomial(coefficients: readonly number[], x: number): number {
  return coefficients.reduceRight((sum, c) => sum * x + c, 0);
}
