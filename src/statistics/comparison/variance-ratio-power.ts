import { requirePositive, requireProbability } from '../../errors.js';
import { fCdf, fSurvival, fUpperQuantile } from '../distributions/f.js';
import { type Power, smallestSampleSize } from './sample-size.js';

/** An F test of two variances as planned. */
export interface VarianceRatioDesign {
  /** True ratio of the first variance to the second. */
  readonly ratio: number;
  /** Level; 0.05 by default. */
  readonly alpha?: number;
  /** 1 tests against a larger first variance (default), 2 against any difference. */
  readonly sides?: 1 | 2;
}

/**
 * Power of the F test of two variances.
 *
 * @param nu1 degrees of freedom of the first
 * @param nu2 degrees of freedom of the second
 * @returns `n` of the result is nu1 + 1
 * @throws InputError a parameter outside its range
 * @example
 * varianceRatioPower(9, 9, { ratio: 4 }).power // => 0.63113553
 */
export function varianceRatioPower(nu1: number, nu2: number, design: VarianceRatioDesign): Power {
  const { ratio, alpha = 0.05, sides = 1 } = design;
  requirePositive(ratio, 'ratio of variances');
  requireProbability(alpha, 'alpha');
  const above = fSurvival(fUpperQuantile(alpha / sides, nu1, nu2) / ratio, nu1, nu2);
  const below = sides === 2 ? fCdf(1 / fUpperQuantile(alpha / 2, nu2, nu1) / ratio, nu1, nu2) : 0;
  const method = `F test of two variances, ${sides}-sided, ${nu1} and ${nu2} degrees of freedom`;
  return { n: nu1 + 1, power: above + below, method, notes: [] };
}

/**
 * Smallest equal number of results per group with which the F test reaches a power.
 *
 * @param power between 0 and 1
 * @throws InputError a parameter outside its range, or a ratio at which the power never reaches it
 * @example
 * varianceRatioSampleSize(0.9, { ratio: 4 }).n // => 20
 */
export function varianceRatioSampleSize(power: number, design: VarianceRatioDesign): Power {
  requireProbability(power, 'power');
  return smallestSampleSize((n) => varianceRatioPower(n - 1, n - 1, design), power, 2);
}

/**
 * Probability that the upper confidence limit of a ratio of variances stays below a limit: the power to show that a
 * first variance is not too large against a second.
 *
 * @param limit ratio that must not be exceeded
 * @param nu1 degrees of freedom of the first
 * @param nu2 degrees of freedom of the second
 * @param design `ratio` is the true one; `alpha` one minus the coverage of the one-sided limit
 * @throws InputError a parameter outside its range
 * @example
 * varianceRatioLimitPower(4, 9, 9, { ratio: 1 }).power // => 0.63113553
 */
export function varianceRatioLimitPower(
  limit: number,
  nu1: number,
  nu2: number,
  design: Pick<VarianceRatioDesign, 'ratio' | 'alpha'>,
): Power {
  const { ratio, alpha = 0.05 } = design;
  requirePositive(limit, 'limit of the ratio');
  requirePositive(ratio, 'ratio of variances');
  requireProbability(alpha, 'alpha');
  const power = fCdf(limit / (ratio * fUpperQuantile(alpha, nu2, nu1)), nu1, nu2);
  const method = `upper limit of a ratio of variances, ${nu1} and ${nu2} degrees of freedom`;
  return { n: nu1 + 1, power, method, notes: [] };
}

/**
 * Smallest equal number of results per group with which the upper limit of a ratio of variances stays below a limit.
 *
 * @param power between 0 and 1
 * @throws InputError a parameter outside its range, or a true ratio that is not below the limit
 * @example
 * varianceRatioLimitSampleSize(0.9, 4, { ratio: 1 }).n // => 20
 */
export function varianceRatioLimitSampleSize(
  power: number,
  limit: number,
  design: Pick<VarianceRatioDesign, 'ratio' | 'alpha'>,
): Power {
  requireProbability(power, 'power');
  return smallestSampleSize((n) => varianceRatioLimitPower(limit, n - 1, n - 1, design), power, 2);
}
