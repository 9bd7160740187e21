import { jStat } from 'jstat';
import { InputError, requirePositive, requireProbability } from '../../errors.js';
import { gammaPrefactor, incompleteGamma } from './incomplete-gamma.js';
import { lowerTarget, solveQuantile, type TailTarget, upperTarget } from './solve-quantile.js';

/**
 * Density of the chi-squared distribution.
 *
 * @param x above 0
 * @param nu degrees of freedom, above 0
 * @throws InputError a parameter outside its range
 * @example
 * chiSquaredDensity(2, 2) // => 0.18393972
 */
export function chiSquaredDensity(x: number, nu: number): number {
  requirePositive(x, 'x');
  requirePositive(nu, 'degrees of freedom');
  return ((nu / 2) * gammaPrefactor(nu / 2, x / 2)) / x;
}

/**
 * Probability that a chi-squared variable is at most x.
 *
 * @param x at least 0, Infinity included
 * @param nu degrees of freedom, above 0
 * @returns probability, accurate relative to itself in both tails
 * @throws InputError a parameter outside its range
 * @example
 * chiSquaredCdf(3.84, 1) // => 0.94995648
 */
export function chiSquaredCdf(x: number, nu: number): number {
  requireArguments(x, nu);
  return incompleteGamma(nu / 2, x / 2).lower;
}

/**
 * Probability that a chi-squared variable exceeds x.
 *
 * @param x at least 0, Infinity included
 * @param nu degrees of freedom, above 0
 * @throws InputError a parameter outside its range
 * @example
 * chiSquaredSurvival(150, 24) // => 3.312751e-20
 */
export function chiSquaredSurvival(x: number, nu: number): number {
  requireArguments(x, nu);
  return incompleteGamma(nu / 2, x / 2).upper;
}

/**
 * Value that a chi-squared variable stays at or below with probability p.
 *
 * @param p between 0 and 1
 * @param nu degrees of freedom, above 0
 * @throws InputError a parameter outside its range
 * @example
 * chiSquaredQuantile(0.95, 1) // => 3.8414588
 */
export function chiSquaredQuantile(p: number, nu: number): number {
  requireProbability(p, 'probability');
  return quantile(lowerTarget(p), nu);
}

/**
 * Value that a chi-squared variable exceeds with probability p.
 *
 * @param p between 0 and 1
 * @param nu degrees of freedom, above 0
 * @throws InputError a parameter outside its range
 * @example
 * chiSquaredUpperQuantile(0.05, 1) // => 3.8414588
 */
export function chiSquaredUpperQuantile(p: number, nu: number): number {
  requireProbability(p, 'probability');
  return quantile(upperTarget(p), nu);
}

function quantile(target: TailTarget, nu: number): number {
  requirePositive(nu, 'degrees of freedom');
  const p = target.side === 'lower' ? target.probability : 1 - target.probability;
  const variable = {
    tails: (x: number) => incompleteGamma(nu / 2, x / 2),
    slope: (x: number) => (nu / 2) * gammaPrefactor(nu / 2, x / 2),
  };
  return solveQuantile(variable, target, p < 1 ? jStat.chisquare.inv(p, nu) : nu);
}

function requireArguments(x: number, nu: number): void {
  if (!(x >= 0)) throw new InputError(`x: found ${x}, expected a number of at least 0`);
  requirePositive(nu, 'degrees of freedom');
}
