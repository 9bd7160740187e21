import { InputError, requireProbability } from '../../errors.js';
import { betaOddsQuantile } from './beta.js';
import { betaPrefactor, incompleteBeta } from './incomplete-beta.js';
import { normalCdf, normalDensity, normalUpperQuantile } from './normal.js';
import { logGamma } from './stirling-error.js';

/** Beyond this the tail is a power of t to full precision, and t² would leave the range of numbers. */
const farTail = 1e100;

/**
 * Density of Student's t distribution.
 *
 * @param t any finite number
 * @param nu degrees of freedom, above 0, Infinity included
 * @throws InputError a parameter outside its range
 * @example
 * studentTDensity(0, 1) // => 0.31830989
 */
export function studentTDensity(t: number, nu: number): number {
  requireArguments(t, nu);
  if (nu === Number.POSITIVE_INFINITY) return normalDensity(t);
  // The density at 0 equals that at 1e-10 to full precision.
  const magnitude = Math.max(Math.abs(t), 1e-10);
  const odds = magnitude * (magnitude / nu);
  return betaPrefactor(0.5, nu / 2, odds / (1 + odds), 1 / (1 + odds)) / magnitude;
}

/**
 * Probability that a t variable is at most t.
 *
 * @param t any number, infinite ones included
 * @param nu degrees of freedom, above 0, Infinity included
 * @returns probability, accurate relative to itself in both tails
 * @throws InputError a parameter outside its range
 * @example
 * studentTCdf(1, 1) // => 0.75
 */
export function studentTCdf(t: number, nu: number): number {
  requireArguments(t, nu);
  if (nu === Number.POSITIVE_INFINITY) return normalCdf(t);
  return t < 0 ? upperTail(-t, nu) : 1 - upperTail(t, nu);
}

/**
 * Probability that a t variable exceeds t.
 *
 * @param t any number, infinite ones included
 * @param nu degrees of freedom, above 0, Infinity included
 * @throws InputError a parameter outside its range
 * @example
 * studentTSurvival(1, 1) // => 0.25
 */
export function studentTSurvival(t: number, nu: number): number {
  return studentTCdf(-t, nu);
}

/**
 * Value that a t variable stays at or below with probability p.
 *
 * @param p between 0 and 1
 * @param nu degrees of freedom, above 0, Infinity included
 * @throws InputError a parameter outside its range, or a quantile beyond 1.8e308
 * @example
 * studentTQuantile(0.975, 9) // => 2.2621572
 */
export function studentTQuantile(p: number, nu: number): number {
  requireProbability(p, 'probability');
  requireDegrees(nu);
  return p > 0.5 ? upperQuantile(1 - p, nu) : -upperQuantile(p, nu);
}

/**
 * Value that a t variable exceeds with probability p.
 *
 * @param p between 0 and 1
 * @param nu degrees of freedom, above 0, Infinity included
 * @throws InputError a parameter outside its range, or a quantile beyond 1.8e308
 * @example
 * studentTUpperQuantile(0.025, 9) // => 2.2621572
 */
export function studentTUpperQuantile(p: number, nu: number): number {
  requireProbability(p, 'probability');
  requireDegrees(nu);
  return p > 0.5 ? -upperQuantile(1 - p, nu) : upperQuantile(p, nu);
}

/** t ≥ 0. */
function upperTail(t: number, nu: number): number {
  if (t === Number.POSITIVE_INFINITY) return 0;
  if (t > farTail) return Math.exp(logPowerTail(nu) - nu * Math.log(t));
  const odds = t * (t / nu);
  return incompleteBeta(nu / 2, 0.5, 1 / (1 + odds), odds / (1 + odds)).lower / 2;
}

/** p ≤ ½. Near the middle 1 − 2p is the probability of |T| below t, which keeps the digits of a small t. */
function upperQuantile(p: number, nu: number): number {
  if (p === 0.5) return 0;
  if (nu === Number.POSITIVE_INFINITY) return normalUpperQuantile(p);
  const side = p < 0.25 ? ('upper' as const) : ('lower' as const);
  const probability = p < 0.25 ? 2 * p : 1 - 2 * p;
  const t = Math.sqrt(nu) * Math.sqrt(betaOddsQuantile({ side, probability }, 0.5, nu / 2));
  if (t < farTail) return t;
  const far = Math.exp((logPowerTail(nu) - Math.log(p)) / nu);
  if (Number.isFinite(far)) return far;
  throw new InputError(
    `probability ${p} with ${nu} degrees of freedom: found a quantile beyond the range of numbers, expected less extreme`,
  );
}

/** ln of C in P(T > t) = C·t^(−ν) for t ≫ √ν. */
function logPowerTail(nu: number): number {
  const logBeta = logGamma(nu / 2) + logGamma(0.5) - logGamma((nu + 1) / 2);
  return (nu / 2 - 1) * Math.log(nu) - logBeta;
}

function requireArguments(t: number, nu: number): void {
  if (Number.isNaN(t)) throw new InputError('t: found NaN, expected a number');
  requireDegrees(nu);
}

function requireDegrees(nu: number): void {
  if (!(nu > 0)) throw new InputError(`degrees of freedom: found ${nu}, expected a number above 0`);
}
