import { standardDeviation } from '../../statistics/descriptive/standard-deviation.js';
import { narrowest, trialsOutside } from './coverage-interval.js';
import type { NumericalStandardErrors } from './simulation.js';
import type { SortedTails } from './sorted-tails.js';

/** Parts that the tails are dealt into, to see how much a shortest interval scatters; about ten trials each at least. */
const mostParts = 20;

/**
 * Numerical standard errors of the ends of both intervals, in the order symmetric low and high, shortest low and high.
 *
 * An end of the symmetric interval is one order statistic: its standard error is half the distance of those one binomial
 * standard deviation below and above. The shortest interval is where a sum of noise and a parabola is least, which
 * scatters with the cube root of the number of trials: the tails are dealt into parts at random, each a simulation of
 * its own, and the scatter over the parts is brought to all trials by that root. Where the interval begins at a limit
 * of the quantity, that is too much.
 *
 * @param tails the sorted tails that the intervals were read from
 * @param trials number of all trials
 * @param coverage coverage probability
 * @see symmetric: David and Nagaraja 2003, Order Statistics, 7.1; shortest: Kim and Pollard 1990, Annals of Statistics 18, 191
 */
export function intervalStandardErrors(
  tails: SortedTails,
  trials: number,
  coverage: number,
): Pick<NumericalStandardErrors, 'symmetricLow' | 'symmetricHigh' | 'shortestLow' | 'shortestHigh'> {
  const outside = trialsOutside(trials, coverage);
  const end = ((outside + 1) >> 1) - 1;
  const share = (1 - coverage) / 2;
  const deviation = Math.sqrt(trials * share * (1 - share));
  const [shortestLow, shortestHigh] = shortestErrors(tails, trials, coverage);
  return {
    symmetricLow: halfDistance(tails.low, end, deviation),
    symmetricHigh: halfDistance(tails.high, end, deviation),
    shortestLow,
    shortestHigh,
  };
}

/** Standard error of an order statistic, from its neighbours. */
export function halfDistance(sorted: Float64Array, at: number, deviation: number): number {
  const reach = Math.max(1, Math.round(deviation));
  const [from, to] = [Math.max(0, at - reach), Math.min(sorted.length - 1, at + reach)];
  if (to === from) return 0;
  return ((sorted[to]! - sorted[from]!) / (to - from)) * deviation;
}

function shortestErrors(tails: SortedTails, trials: number, coverage: number): [number, number] {
  const parts = Math.min(mostParts, Math.floor(tails.low.length / 10));
  const outside = trialsOutside(Math.floor(trials / parts), coverage);
  const lows: number[] = [];
  const highs: number[] = [];
  const low = deal(tails.low, parts, 1);
  const high = deal(tails.high, parts, 2);
  for (let part = 0; part < parts; part++) {
    const [l, h] = [low[part]!, high[part]!];
    // The largest values of the part, lined up so that position i of the one belongs to position i of the other.
    const missing = Math.max(0, outside - h.length);
    const end = Math.min(outside, l.length);
    if (missing >= end) continue;
    const aligned = new Float64Array(outside);
    aligned.set(h.subarray(Math.max(0, h.length - outside)), missing);
    const best = narrowest(l, aligned, missing, end);
    lows.push(l[best]!);
    highs.push(aligned[best]!);
  }
  const scale = parts ** (-1 / 3);
  return [scale * standardDeviation(lows), scale * standardDeviation(highs)];
}

/** Deals sorted values to parts by a hash of their place, which keeps the order within each part. */
function deal(sorted: Float64Array, parts: number, salt: number): Float64Array[] {
  // Ten binomial standard deviations above the share of a part.
  const room = Math.ceil(sorted.length / parts + 10 * Math.sqrt(sorted.length / parts));
  const dealt = Array.from({ length: parts }, () => new Float64Array(room));
  const counts = new Int32Array(parts);
  for (let i = 0; i < sorted.length; i++) {
    let h = Math.imul(i + 1, 0x9e3779b1) ^ Math.imul(salt, 0x85ebca77);
    h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
    h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
    const part = Math.floor((((h ^ (h >>> 16)) >>> 0) / 4294967296) * parts);
    dealt[part]![counts[part]!++] = sorted[i]!;
  }
  return dealt.map((values, part) => values.subarray(0, counts[part]!));
}
