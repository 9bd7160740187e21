import { requireNonNegative, requirePositive, requireProbability } from '../../errors.js';
import { chiSquaredQuantile } from '../distributions/chi-squared.js';
import type { Interval } from '../interval.js';

/** A variance with its two-sided interval. */
export interface VarianceInterval {
  readonly variance: number;
  /** Limits of the variance; their roots are those of the standard deviation. */
  readonly interval: Interval;
  readonly degreesOfFreedom: number;
  readonly method: string;
  readonly notes: readonly string[];
}

/**
 * Exact χ² interval of a variance estimated with ν degrees of freedom, such as a repeatability variance.
 *
 * Exact for normal data, and sensitive to departures from it. The end points of the 90 % interval are the one-sided 95 % limits.
 *
 * @param variance estimate, at least 0
 * @param degreesOfFreedom ν above 0
 * @param coverage probability of the two-sided interval; default 0.95
 * @throws InputError variance below 0, ν not above 0, coverage outside (0, 1)
 * @see Graybill, Theory and Application of the Linear Model, 1976; NIST/SEMATECH e-Handbook, 7.2.3.1
 * @example
 * varianceInterval(4, 10).interval.high // => 12.31917
 */
export function varianceInterval(
  variance: number,
  degreesOfFreedom: number,
  coverage = 0.95,
): VarianceInterval {
  requireNonNegative(variance, 'variance');
  requirePositive(degreesOfFreedom, 'degrees of freedom');
  requireProbability(coverage, 'coverage');
  const tail = (1 - coverage) / 2;
  const low = (degreesOfFreedom * variance) / chiSquaredQuantile(1 - tail, degreesOfFreedom);
  const high = (degreesOfFreedom * variance) / chiSquaredQuantile(tail, degreesOfFreedom);
  return {
    variance,
    interval: { low, high, coverage },
    degreesOfFreedom,
    method: 'exact χ² interval',
    notes: [],
  };
}
