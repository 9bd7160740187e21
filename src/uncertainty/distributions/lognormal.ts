import { requirePositive, requireProbability } from '../../errors.js';
import {
  normalCdf,
  normalDensity,
  normalQuantile,
  normalSurvival,
} from '../../statistics/distributions/normal.js';
import type { ProbabilityDistribution } from './probability-distribution.js';

/**
 * Lognormal distribution with a given mean and standard deviation: a positive quantity whose relative uncertainty is large.
 *
 * @param estimate mean of the quantity itself (not of its logarithm), above 0
 * @param standardUncertainty standard deviation of the quantity itself, above 0
 * @see Johnson, Kotz, Balakrishnan 1994, Continuous Univariate Distributions 1, chapter 14
 * @example
 * lognormalDistribution(1, 0.5).quantile(0.5) // => 0.894427191
 */
export function lognormalDistribution(
  estimate: number,
  standardUncertainty: number,
): ProbabilityDistribution {
  requirePositive(estimate, 'estimate of a quantity with a lognormal distribution');
  requirePositive(standardUncertainty, 'standard uncertainty');
  const variance = Math.log1p((standardUncertainty / estimate) ** 2);
  const sigma = Math.sqrt(variance);
  const mu = Math.log(estimate) - variance / 2;
  const standard = (x: number): number => (Math.log(x) - mu) / sigma;
  return {
    mean: estimate,
    standardDeviation: standardUncertainty,
    lower: 0,
    upper: Infinity,
    density: (x) => (x <= 0 ? 0 : normalDensity(standard(x)) / (sigma * x)),
    cdf: (x) => (x <= 0 ? 0 : normalCdf(standard(x))),
    survival: (x) => (x <= 0 ? 1 : normalSurvival(standard(x))),
    quantile: (p) => {
      requireProbability(p, 'probability');
      return Math.exp(mu + sigma * normalQuantile(p));
    },
  };
}
