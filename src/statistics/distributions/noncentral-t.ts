import { InputError, requireFinite, requireProbability } from '../../errors.js';
import { findRoot } from '../arithmetic/find-root.js';
import { integratePeak } from './integrate-peak.js';
import { normalCdf, normalLogSurvival, normalQuantile, normalUpperQuantile } from './normal.js';
import { logOnePlusMinus, stirlingError } from './stirling-error.js';
import {
  studentTCdf,
  studentTDensity,
  studentTQuantile,
  studentTSurvival,
  studentTUpperQuantile,
} from './student-t.js';

/** Width of the last bracket of a root, relative. */
const fullPrecision = 2.3e-16;

/**
 * Probability that (Z + δ)/√(χ²/ν) is at most t: the noncentral t distribution.
 *
 * @param t any number, infinite ones included
 * @param nu degrees of freedom, above 0, Infinity included
 * @param delta noncentrality, finite
 * @returns probability, accurate relative to itself in both tails
 * @throws InputError a parameter outside its range
 * @see Johnson, Kotz and Balakrishnan 1995, Continuous Univariate Distributions vol. 2, ch. 31
 * @example
 * noncentralTCdf(0, 5, 2) // => 0.022750132
 */
export function noncentralTCdf(t: number, nu: number, delta: number): number {
  requireArguments(t, nu, delta);
  return t < 0 ? upperTail(-t, nu, -delta) : lowerTail(t, nu, delta);
}

/**
 * Probability that a noncentral t variable exceeds t.
 *
 * @param t any number, infinite ones included
 * @param nu degrees of freedom, above 0, Infinity included
 * @param delta noncentrality, finite
 * @throws InputError a parameter outside its range
 * @example
 * noncentralTSurvival(0, 5, 2) // => 0.97724987
 */
export function noncentralTSurvival(t: number, nu: number, delta: number): number {
  requireArguments(t, nu, delta);
  return t < 0 ? lowerTail(-t, nu, -delta) : upperTail(t, nu, delta);
}

/**
 * Value that a noncentral t variable stays at or below with probability p.
 *
 * @param p between 0 and 1
 * @param nu degrees of freedom, above 0, Infinity included
 * @param delta noncentrality, finite
 * @throws InputError a parameter outside its range
 * @example
 * noncentralTQuantile(0.95, 5, 2) // => 5.2558844
 */
export function noncentralTQuantile(p: number, nu: number, delta: number): number {
  requireProbability(p, 'probability');
  requireArguments(0, nu, delta);
  if (nu === Number.POSITIVE_INFINITY) return normalQuantile(p) + delta;
  const excess = (t: number) =>
    p <= 0.5
      ? Math.log(noncentralTCdf(t, nu, delta) / p)
      : -Math.log(noncentralTSurvival(t, nu, delta) / (1 - p));
  if (delta === 0) return studentTQuantile(p, nu);
  const atZero = normalCdf(-delta);
  // Next to 0 the difference of p and P(T ≤ 0) holds few digits, and a step along the density at 0 serves.
  const slope = studentTDensity(0, nu) * Math.exp((-delta * delta) / 2);
  const nearZero = (p - atZero) / slope;
  if (Math.abs(nearZero) < 1e-9) return nearZero;
  const sign = p > atZero ? 1 : -1;
  const excessAt = (u: number) => sign * excess(sign * Math.exp(u));
  let high = Math.log(Math.abs(delta) + 1);
  let low = high;
  for (let step = 1; excessAt(high) < 0 && high < 340; step *= 2) high += step;
  for (let step = 1; excessAt(low) > 0 && low > -30; step *= 2) low -= step;
  return sign * Math.exp(findRoot(excessAt, low, high, fullPrecision));
}

/**
 * Noncentrality at which a one-sided test of level α fails to reject with probability β: the factor δ(ν, α, β) of
 * the limit of detection in units of the standard deviation that the test uses.
 *
 * @param nu degrees of freedom of that standard deviation, above 0, Infinity included
 * @param alpha probability of a false positive, between 0 and 1
 * @param beta probability of a false negative, between 0 and 1; alpha + beta < 1
 * @throws InputError a parameter outside its range
 * @see Currie 1995, Pure Appl. Chem. 67, 1699, on the noncentral t; ISO 11843-1 and -2:2000, table 1 (from memory)
 * @example
 * detectionDelta(4, 0.05, 0.05) // => 4.0672756
 */
export function detectionDelta(nu: number, alpha: number, beta: number): number {
  requireArguments(0, nu, 0);
  requireProbability(alpha, 'probability of a false positive');
  requireProbability(beta, 'probability of a false negative');
  if (alpha + beta >= 1) {
    throw new InputError(`probabilities of errors: found ${alpha} and ${beta}, expected a sum below 1`);
  }
  const critical = studentTUpperQuantile(alpha, nu);
  if (nu === Number.POSITIVE_INFINITY) return critical + normalUpperQuantile(beta);
  const excess = (delta: number) =>
    beta <= 0.5
      ? Math.log(noncentralTCdf(critical, nu, delta) / beta)
      : -Math.log(noncentralTSurvival(critical, nu, delta) / (1 - beta));
  let high = Math.abs(critical) + 1;
  while (excess(high) > 0) high *= 2;
  return findRoot(excess, 0, high, fullPrecision);
}

/** P(T > t) for t ≥ 0. */
function upperTail(t: number, nu: number, delta: number): number {
  if (delta === 0) return studentTSurvival(t, nu);
  if (t === 0 || t === Number.POSITIVE_INFINITY) return t === 0 ? normalCdf(delta) : 0;
  if (nu === Number.POSITIVE_INFINITY) return normalCdf(delta - t);
  return overScale(nu, t, (s) => normalLogSurvival(t * s - delta));
}

/** P(T ≤ t) for t ≥ 0. */
function lowerTail(t: number, nu: number, delta: number): number {
  if (delta === 0) return studentTCdf(t, nu);
  if (t === 0 || t === Number.POSITIVE_INFINITY) return t === 0 ? normalCdf(-delta) : 1;
  if (nu === Number.POSITIVE_INFINITY) return normalCdf(t - delta);
  return overScale(nu, t, (s) => normalLogSurvival(delta - t * s));
}

/**
 * Expectation over s = √(χ²/ν) of a probability given by its logarithm, integrated over v = ln s. No term is negative,
 * so that no digits cancel in either tail.
 */
function overScale(nu: number, t: number, logProbability: (s: number) => number): number {
  const a = nu / 2;
  const constant = Math.log(2 * a) - 0.5 * Math.log(2 * Math.PI * a) - stirlingError(a);
  const g = (v: number) => {
    const growth = Math.expm1(2 * v);
    const logDensity = constant + a * (v < -0.3 ? 2 * v - growth : logOnePlusMinus(growth));
    return logDensity + logProbability(Math.exp(v));
  };
  // The probability changes near s = δ/t, which lies far down for a large t.
  return Math.min(1, integratePeak(g, -40 - Math.max(0, Math.log(t)), 10));
}

function requireArguments(t: number, nu: number, delta: number): void {
  if (Number.isNaN(t)) throw new InputError('t: found NaN, expected a number');
  if (!(nu > 0)) throw new InputError(`degrees of freedom: found ${nu}, expected a number above 0`);
  requireFinite([delta], 'noncentrality');
}
