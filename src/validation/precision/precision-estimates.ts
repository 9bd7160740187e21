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

/**
 * Scatter of results over days as their mean squares give it: for results of as many digestions as there are a day, the standard
 * deviation of the day means, with days − 1 degrees of freedom. Unlike `intermediateOf` it may lie below the repeatability, so that
 * value, limits and degrees of freedom are of one statistic and a test of it holds.
 *
 * @returns null where results are of more digestions than there are a day: the sum then takes a mean square off and may fall to 0
 * @example
 * scatterOverDays({ digestionsPerDay: 2, meanSquareBetween: 2, degreesOfFreedomBetween: 9, meanSquareWithin: 5, degreesOfFreedomWithin: 10 }, 2)?.value // => 1
 */
export function scatterOverDays(
  components: Parameters<typeof termsOfResult>[0],
  perResult: number,
): StandardDeviationEstimate | null {
  const [first, second] = termsOfResult(components, perResult);
  if (second.coefficient < 0) return null;
  const variance = first.coefficient * first.meanSquare + second.coefficient * second.meanSquare;
  const limits = limitsFrom(
    (p) => Math.sqrt(limitsOfVarianceSum(first, second, p).lower),
    (p) => Math.sqrt(limitsOfVarianceSum(first, second, p).upper),
  );
  return {
    value: Math.sqrt(variance),
    limits,
    degreesOfFreedom: degreesOfFreedomOf([first, second]),
  };
}

/** Satterthwaite's approximation for the same: it declares a criterion at the truth met too often, so it decides nothing. */
export function satterthwaiteOf(components: DayComponents, perResult: number): SatterthwaiteLimit {
  const degreesOfFreedom = degreesOfFreedomOf(termsOfResult(components, perResult));
  const value = Math.sqrt(components.dayVariance + components.digestionVariance / perResult);
  return {
    degreesOfFreedom,
    upperOneSided: limitsOfStandardDeviation(value, degreesOfFreedom).upperOneSided,
  };
}

function degreesOfFreedomOf(terms: ReturnType<typeof termsOfResult>): number {
  const parts = terms.map((term) => term.coefficient * term.meanSquare);
  const sum = parts[0]! + parts[1]!;
  const spread = terms.reduce((total, term, i) => total + parts[i]! ** 2 / term.degreesOfFreedom, 0);
  const least = Math.min(...terms.map((term) => term.degreesOfFreedom));
  return spread > 0 ? Math.max(1, sum ** 2 / spread) : least;
}
