import { InputError, requireProbability } from '../../errors.js';
import { betaOddsQuantile } from './beta.js';
import { chiSquaredQuantile, chiSquaredUpperQuantile } from './chi-squared.js';
import { incompleteBeta } from './incomplete-beta.js';
import { incompleteGamma, type Tails } from './incomplete-gamma.js';
import { lowerTarget, upperTarget } from './solve-quantile.js';

/**
 * Probability that an F variable is at most x.
 *
 * @param x at least 0, Infinity included
 * @param nu1 degrees of freedom of the numerator, above 0, Infinity included
 * @param nu2 degrees of freedom of the denominator, above 0; one of the two is finite
 * @returns probability, accurate relative to itself in both tails
 * @throws InputError a parameter outside its range
 * @example
 * fCdf(1, 5, 5) // => 0.5
 */
export function fCdf(x: number, nu1: number, nu2: number): number {
  return fTails(x, nu1, nu2).lower;
}

/**
 * Probability that an F variable exceeds x.
 *
 * @param x at least 0, Infinity included
 * @param nu1 degrees of freedom of the numerator, above 0, Infinity included
 * @param nu2 degrees of freedom of the denominator, above 0; one of the two is finite
 * @throws InputError a parameter outside its range
 * @example
 * fSurvival(18, 2, 2) // => 0.052631579
 */
export function fSurvival(x: number, nu1: number, nu2: number): number {
  return fTails(x, nu1, nu2).upper;
}

/**
 * Value that an F variable stays at or below with probability p.
 *
 * @param p between 0 and 1
 * @param nu1 degrees of freedom of the numerator, above 0, Infinity included
 * @param nu2 degrees of freedom of the denominator, above 0; one of the two is finite
 * @throws InputError a parameter outside its range
 * @example
 * fQuantile(0.95, 2, 2) // => 19
 */
export function fQuantile(p: number, nu1: number, nu2: number): number {
  requireProbability(p, 'probability');
  requireDegrees(nu1, nu2);
  if (nu2 === Number.POSITIVE_INFINITY) return chiSquaredQuantile(p, nu1) / nu1;
  if (nu1 === Number.POSITIVE_INFINITY) return nu2 / chiSquaredUpperQuantile(p, nu2);
  return betaOddsQuantile(lowerTarget(p), nu1 / 2, nu2 / 2) * (nu2 / nu1);
}

/**
 * Value that an F variable exceeds with probability p.
 *
 * @param p between 0 and 1
 * @param nu1 degrees of freedom of the numerator, above 0, Infinity included
 * @param nu2 degrees of freedom of the denominator, above 0; one of the two is finite
 * @throws InputError a parameter outside its range
 * @example
 * fUpperQuantile(0.05, 2, 2) // => 19
 */
export function fUpperQuantile(p: number, nu1: number, nu2: number): number {
  requireProbability(p, 'probability');
  requireDegrees(nu1, nu2);
  if (nu2 === Number.POSITIVE_INFINITY) return chiSquaredUpperQuantile(p, nu1) / nu1;
  if (nu1 === Number.POSITIVE_INFINITY) return nu2 / chiSquaredQuantile(p, nu2);
  return betaOddsQuantile(upperTarget(p), nu1 / 2, nu2 / 2) * (nu2 / nu1);
}

function fTails(x: number, nu1: number, nu2: number): Tails {
  if (!(x >= 0)) throw new InputError(`x: found ${x}, expected a number of at least 0`);
  requireDegrees(nu1, nu2);
  if (nu2 === Number.POSITIVE_INFINITY) return incompleteGamma(nu1 / 2, (nu1 * x) / 2);
  if (nu1 === Number.POSITIVE_INFINITY) {
    const { lower, upper } = incompleteGamma(nu2 / 2, nu2 / x / 2);
    return { lower: upper, upper: lower };
  }
  const odds = (nu1 / nu2) * x;
  if (odds === Number.POSITIVE_INFINITY) return { lower: 1, upper: 0 };
  return incompleteBeta(nu1 / 2, nu2 / 2, odds / (1 + odds), 1 / (1 + odds));
}

function requireDegrees(nu1: number, nu2: number): void {
  if (!(nu1 > 0 && nu2 > 0) || (nu1 === Number.POSITIVE_INFINITY && nu2 === nu1)) {
    throw new InputError(
      `degrees of freedom: found ${nu1} and ${nu2}, expected numbers above 0, one of them finite`,
    );
  }
}
