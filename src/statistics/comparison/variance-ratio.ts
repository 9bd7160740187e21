import { InputError, requireNonNegative, requireProbability } from '../../errors.js';
import { standardDeviation } from '../descriptive/standard-deviation.js';
import { fCdf, fSurvival, fUpperQuantile } from '../distributions/f.js';
import type { Interval } from '../interval.js';

/** Outcome of an F test of two variances. */
export interface VarianceRatio {
  /** First variance over second. */
  readonly ratio: number;
  readonly degreesOfFreedom: readonly [number, number];
  /** Two-sided: twice the smaller of the one-sided ones, at most 1. */
  readonly pValue: number;
  /** One-sided, against a first variance that is smaller. */
  readonly pBelow: number;
  /** One-sided, against a first variance that is larger. */
  readonly pAbove: number;
  /** Confidence interval of the ratio of the true variances. */
  readonly interval: Interval;
  readonly method: string;
  readonly notes: readonly string[];
}

/**
 * F test of the variances of two samples, with the confidence interval of their ratio.
 *
 * @param first n₁ ≥ 2 finite values in one unit
 * @param second n₂ ≥ 2 finite values in that unit, not all equal
 * @param coverage coverage probability of the two-sided interval
 * @throws InputError a group of fewer than two, a value that is not finite, no scatter in the second, coverage out of range
 * @see ISO 2854:1976, table H (clause from memory)
 * @example
 * fTest([1, 3, 5], [2, 3, 4]).ratio // => 4
 */
export function fTest(first: ArrayLike<number>, second: ArrayLike<number>, coverage = 0.95): VarianceRatio {
  const spread = standardDeviation(first);
  const reference = standardDeviation(second);
  if (reference === 0) throw new InputError('second: found no scatter, expected values that differ');
  return varianceRatio((spread / reference) ** 2, first.length - 1, second.length - 1, coverage);
}

/**
 * F test and confidence interval from a ratio of variances and their degrees of freedom.
 *
 * @param ratio first variance over second, at least 0
 * @param nu1 degrees of freedom of the first
 * @param nu2 degrees of freedom of the second; one of the two is finite
 * @param coverage coverage probability of the two-sided interval
 * @throws InputError a parameter outside its range
 * @see ISO 2854:1976, table H (clause from memory)
 * @example
 * varianceRatio(4, 2, 2).interval.low // => 0.1025641
 */
export function varianceRatio(ratio: number, nu1: number, nu2: number, coverage = 0.95): VarianceRatio {
  requireNonNegative(ratio, 'ratio of variances');
  requireProbability(coverage, 'coverage');
  const tail = (1 - coverage) / 2;
  const pBelow = fCdf(ratio, nu1, nu2);
  const pAbove = fSurvival(ratio, nu1, nu2);
  return {
    ratio,
    degreesOfFreedom: [nu1, nu2],
    pValue: Math.min(1, 2 * Math.min(pBelow, pAbove)),
    pBelow,
    pAbove,
    interval: {
      low: ratio / fUpperQuantile(tail, nu1, nu2),
      high: ratio * fUpperQuantile(tail, nu2, nu1),
      coverage,
    },
    method: 'F test of two variances',
    notes: ratio === 0 ? ['the first holds no scatter'] : [],
  };
}
