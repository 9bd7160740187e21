import { limitsFrom, limitsOfStandardDeviation } from '../confidence-limits.js';
import type { ConfidenceLimits } from '../finding.js';
import { type DayComponents, termsOfResult } from './day-components.js';
import { limitsOfVarianceSum } from './limits-of-variance-sum.js';

/** A standard deviation with its limits, in the unit of the results. */
export interface StandardDeviationEstimate {
  readonly value: number;
  readonly limits: ConfidenceLimits;
  readonly degreesOfFreedom: number;
}

/** Satterthwaite's degrees of freedom of an intermediate precision and the upper one-sided 95 % limit they give. */
export interface SatterthwaiteLimit {
  readonly degreesOfFreedom: number;
  readonly upperOneSided: number;
}

/**
 * Repeatability standard deviation of the mean of `perResult` digestions of one day, with exact χ² limits.
 *
 * @example
 * repeatabilityOf({ digestionVariance: 4, degreesOfFreedomWithin: 6 }, 1).value // => 2
 */
export function repeatabilityOf(
  components: Pick<DayComponents, 'digestionVariance' | 'degreesOfFreedomWithin'>,
  perResult: number,
): StandardDeviationEstimate {
  const value = Math.sqrt(components.digestionVariance / perResult);
  const degreesOfFreedom = components.degreesOfFreedomWithin;
  return { value, limits: limitsOfStandardDeviation(value, degreesOfFreedom), degreesOfFreedom };
}

/** Intermediate precision standard deviation of the mean of `perResult` digestions of one day, with Graybill–Wang limits. */
export function intermediateOf(components: DayComponents, perResult: number): StandardDeviationEstimate {
  const value = Math.sqrt(components.dayVariance + components.digestionVariance / perResult);
  const [first, second] = termsOfResult(components, perResult);
  // s_I is never below s_r, so its estimate may lie above the sum of mean squares that the limits are built on.
  const limits = limitsFrom(
    (p) => Math.min(value, Math.sqrt(limitsOfVarianceSum(first, second, p).lower)),
    (p) => Math.max(value, Math.sqrt(limitsOfVarianceSum(first, second, p).upper)),
  );
  return { value, limits, degreesOfFreedom: satterthwaiteOf(components, perResult).degreesOfFreedom };
}

/** Satterthwaite's approximation for the same: it declares a criterion at the truth met too often, so it decides nothing. */
export function satterthwaiteOf(components: DayComponents, perResult: number): SatterthwaiteLimit {
  const terms = termsOfResult(components, perResult);
  const parts = terms.map((term) => term.coefficient * term.meanSquare);
  const sum = parts[0]! + parts[1]!;
  const spread = terms.reduce((total, term, i) => total + parts[i]! ** 2 / term.degreesOfFreedom, 0);
  const least = Math.min(...terms.map((term) => term.degreesOfFreedom));
  const degreesOfFreedom = spread > 0 ? Math.max(1, sum ** 2 / spread) : least;
  const value = Math.sqrt(components.dayVariance + components.digestionVariance / perResult);
  return {
    degreesOfFreedom,
    upperOneSided: limitsOfStandardDeviation(value, degreesOfFreedom).upperOneSided,
  };
}
