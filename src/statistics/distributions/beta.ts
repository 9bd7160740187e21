import { jStat } from 'jstat';
import { InputError, requirePositive, requireProbability } from '../../errors.js';
import { betaPrefactor, incompleteBeta } from './incomplete-beta.js';
import { lowerTarget, solveQuantile, type TailTarget, upperTarget } from './solve-quantile.js';

/**
 * Density of the beta distribution.
 *
 * @param x between 0 and 1
 * @param a first shape, above 0
 * @param b second shape, above 0
 * @throws InputError a parameter outside its range
 * @example
 * betaDensity(0.25, 2, 3) // => 1.6875
 */
export function betaDensity(x: number, a: number, b: number): number {
  requireProbability(x, 'x');
  requireShapes(a, b);
  return betaPrefactor(a, b, x, 1 - x) / (x * (1 - x));
}

/**
 * Probability that a beta variable is at most x.
 *
 * @param x from 0 to 1
 * @param a first shape, above 0
 * @param b second shape, above 0
 * @returns probability, accurate relative to itself in both tails
 * @throws InputError a parameter outside its range
 * @example
 * betaCdf(0.25, 2, 3) // => 0.26171875
 */
export function betaCdf(x: number, a: number, b: number): number {
  requireArguments(x, a, b);
  return incompleteBeta(a, b, x, 1 - x).lower;
}

/**
 * Probability that a beta variable exceeds x.
 *
 * @param x from 0 to 1
 * @param a first shape, above 0
 * @param b second shape, above 0
 * @throws InputError a parameter outside its range
 * @example
 * betaSurvival(0.25, 2, 3) // => 0.73828125
 */
export function betaSurvival(x: number, a: number, b: number): number {
  requireArguments(x, a, b);
  return incompleteBeta(a, b, x, 1 - x).upper;
}

/**
 * Value that a beta variable stays at or below with probability p.
 *
 * @param p between 0 and 1
 * @param a first shape, above 0
 * @param b second shape, above 0
 * @throws InputError a parameter outside its range
 * @example
 * betaQuantile(0.5, 3, 3) // => 0.5
 */
export function betaQuantile(p: number, a: number, b: number): number {
  requireProbability(p, 'probability');
  requireShapes(a, b);
  return fromOdds(betaOddsQuantile(lowerTarget(p), a, b));
}

/**
 * Value that a beta variable exceeds with probability p.
 *
 * @param p between 0 and 1
 * @param a first shape, above 0
 * @param b second shape, above 0
 * @throws InputError a parameter outside its range
 * @example
 * betaUpperQuantile(0.1, 30, 3) // => 0.96505881
 */
export function betaUpperQuantile(p: number, a: number, b: number): number {
  requireProbability(p, 'probability');
  requireShapes(a, b);
  return fromOdds(betaOddsQuantile(upperTarget(p), a, b));
}

/** Quantile of the odds x/(1 − x) of a beta variable: the common core of the beta, F and t quantiles. */
export function betaOddsQuantile(target: TailTarget, a: number, b: number): number {
  // The start is asked for on the side where the probability is small, so that it is not rounded to 1.
  const lower = target.side === 'lower';
  const x = lower ? jStat.beta.inv(target.probability, a, b) : jStat.beta.inv(target.probability, b, a);
  const start = lower ? x / (1 - x) : (1 - x) / x;
  const variable = {
    tails: (odds: number) => incompleteBeta(a, b, odds / (1 + odds), 1 / (1 + odds)),
    slope: (odds: number) => betaPrefactor(a, b, odds / (1 + odds), 1 / (1 + odds)),
  };
  return solveQuantile(variable, target, start);
}

function fromOdds(odds: number): number {
  return odds === Number.POSITIVE_INFINITY ? 1 : odds / (1 + odds);
}

function requireArguments(x: number, a: number, b: number): void {
  if (!(x >= 0 && x <= 1)) throw new InputError(`x: found ${x}, expected a number from 0 to 1`);
  requireShapes(a, b);
}

function requireShapes(a: number, b: number): void {
  requirePositive(a, 'first shape');
  requirePositive(b, 'second shape');
}
