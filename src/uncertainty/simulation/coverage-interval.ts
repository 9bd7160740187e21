import { InputError, requireProbability } from '../../errors.js';
import { type SortedTails, sortedTails, TailMemory } from './sorted-tails.js';

/** A coverage interval from trials. */
export interface CoverageInterval {
  readonly low: number;
  readonly high: number;
  /** Coverage probability. */
  readonly coverage: number;
}

/** Both coverage intervals from the same trials, with what they were read from. */
export interface CoverageIntervals {
  readonly symmetric: CoverageInterval;
  readonly shortest: CoverageInterval;
  readonly tails: SortedTails;
}

/**
 * Probabilistically symmetric and shortest coverage interval.
 *
 * @param values M trials in any order, left as they are
 * @param coverageProbability p; M must be so large that at least one trial lies outside
 * @param memory where the tails may lie; they then last until it is used again
 * @throws InputError too few trials
 * @see JCGM 101:2008, 7.7.2 (symmetric) and 7.7.3 (shortest), with q = pM rounded and r = (M − q)/2 rounded up
 * @example
 * const values = Float64Array.from({ length: 1000 }, (_, i) => (i / 1000) ** 2);
 * coverageIntervals(values, 0.9).shortest.low // => 0
 */
export function coverageIntervals(
  values: Float64Array,
  coverageProbability: number,
  memory = new TailMemory(),
): CoverageIntervals {
  requireProbability(coverageProbability, 'coverage probability');
  const coverage = coverageProbability;
  const outside = trialsOutside(values.length, coverage);
  if (outside < 1 || outside === values.length) {
    throw new InputError(
      `found ${values.length} trials; a coverage interval of probability ${coverage} takes more of them`,
    );
  }
  const tails = sortedTails(values, outside, memory);
  const { low, high } = tails;
  const r = (outside + 1) >> 1;
  const best = narrowest(low, high, 0, outside);
  return {
    symmetric: { low: low[r - 1]!, high: high[r - 1]!, coverage },
    shortest: { low: low[best]!, high: high[best]!, coverage },
    tails,
  };
}

/** Number of trials outside an interval that holds a share `coverage` of them. */
export function trialsOutside(trials: number, coverage: number): number {
  return trials - Math.floor(coverage * trials + 0.5);
}

/** The first i from `from` to below `to` with the least `high[i] − low[i]`. */
export function narrowest(low: Float64Array, high: Float64Array, from: number, to: number): number {
  let best = from;
  let width = high[from]! - low[from]!;
  for (let i = from + 1; i < to; i++) {
    const next = high[i]! - low[i]!;
    if (next < width) {
      best = i;
      width = next;
    }
  }
  return best;
}
