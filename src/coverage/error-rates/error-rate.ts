import { believableCounts } from './believable-counts.js';

/** How often something happened in many invented experiments, against how often it should. */
export interface ErrorRate {
  readonly about: string;
  readonly count: number;
  readonly of: number;
  /** Probability it should have, as an interval: one value where the method is exact. */
  readonly wanted: { readonly low: number; readonly high: number };
  /** Counts that are believed of it at 99.9 %. */
  readonly believed: { readonly low: number; readonly high: number };
  readonly holds: boolean;
}

/** Probability of an interval at 95 %: exact, and where the method only approximates it. */
export const wanted = {
  exact: { low: 0.95, high: 0.95 },
  approximate: { low: 0.93, high: 0.98 },
  atMostFivePercent: { low: 0, high: 0.05 },
  fivePercent: { low: 0.05, high: 0.05 },
} as const;

/**
 * A count held against the probability it should have; a bound of 0 or 1 leaves its side open.
 *
 * @example
 * errorRate('interval', 475, 500, { low: 0.95, high: 0.95 }).holds // => true
 */
export function errorRate(
  about: string,
  count: number,
  of: number,
  probability: { readonly low: number; readonly high: number },
): ErrorRate {
  const low = probability.low <= 0 ? 0 : believableCounts(probability.low, of).low;
  const high = probability.high >= 1 ? of : believableCounts(probability.high, of).high;
  return {
    about,
    count,
    of,
    wanted: probability,
    believed: { low, high },
    holds: count >= low && count <= high,
  };
}
