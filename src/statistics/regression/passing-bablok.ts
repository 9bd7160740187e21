import { InputError, requireProbability } from '../../errors.js';
import { median } from '../descriptive/median.js';
import { normalQuantile } from '../distributions/normal.js';
import type { Interval } from '../interval.js';
import { requirePoints } from './line.js';

/** Passing–Bablok regression of one method on another. */
export interface PassingBablokFit {
  readonly intercept: number;
  readonly slope: number;
  /** Infinite on the side where the interval of the slope leaves it open. */
  readonly interceptInterval: Interval;
  /** Its upper limit is infinite where lines up to a vertical one agree with the points. */
  readonly slopeInterval: Interval;
  /** Number of pairwise slopes used. */
  readonly slopes: number;
  /** Slopes below −1: by this number the median is shifted. */
  readonly offset: number;
  readonly n: number;
  readonly method: string;
  readonly notes: readonly string[];
}

/**
 * Passing–Bablok regression: shifted median of all pairwise slopes, robust and symmetric in the two methods.
 *
 * For two methods on one scale with a slope near 1, in any case above 0; memory and time grow with n².
 *
 * @param x 10 results or more by one method
 * @param y as many by the other
 * @param coverage coverage probability of the intervals; default 0.95
 * @throws InputError too few points, no usable slopes, methods that do not rise together, a value that is not finite
 * @see Passing and Bablok 1983, J. Clin. Chem. Clin. Biochem. 21, 709
 * @example
 * passingBablok([1, 2, 3, 4, 5, 6, 7, 8, 9, 10], [1.2, 2.1, 2.9, 4.2, 5, 6.3, 7.1, 7.8, 9.2, 10.1]).slope // => 1
 */
export function passingBablok(x: readonly number[], y: readonly number[], coverage = 0.95): PassingBablokFit {
  requirePoints(x, y, undefined, 10);
  requireProbability(coverage, 'coverage');
  const slopes = pairwiseSlopes(x, y);
  const count = slopes.length;
  if (count === 0) throw new InputError('passing-bablok: found no two different points');
  const n = x.length;
  let offset = 0;
  while (offset < count && slopes[offset]! < -1) offset++;
  if (Math.floor(count / 2) + 1 + offset > count) {
    throw new InputError(
      `passing-bablok: found ${offset} of ${count} slopes below −1, expected two methods that rise together`,
    );
  }
  const at = (rank: number): number => slopes[Math.min(count, Math.max(1, rank)) - 1]!;
  const middle =
    count % 2 === 1
      ? at((count + 1) / 2 + offset)
      : (at(count / 2 + offset) + at(count / 2 + 1 + offset)) / 2;
  const reach = normalQuantile((1 + coverage) / 2) * Math.sqrt((n * (n - 1) * (2 * n + 5)) / 18);
  const first = Math.round((count - reach) / 2);
  const low = at(first + offset);
  // Slopes go round a circle: beyond the last one come the vertical line and the slopes below −1.
  const beyondVertical = first >= 1 && offset >= first;
  const high = beyondVertical ? Number.POSITIVE_INFINITY : at(count - first + 1 + offset);
  if (!Number.isFinite(middle))
    throw new InputError('passing-bablok: the median slope is not finite; x hardly varies');
  const intercept = (slope: number) => median(y.map((value, i) => value - slope * x[i]!));
  const atLow = Number.isFinite(low) ? intercept(low) : openIntercept(x, y, low);
  const atHigh = Number.isFinite(high) ? intercept(high) : openIntercept(x, y, high);
  return {
    slope: middle,
    intercept: intercept(middle),
    slopeInterval: { low, high, coverage },
    interceptInterval: { low: Math.min(atHigh, atLow), high: Math.max(atHigh, atLow), coverage },
    slopes: count,
    offset,
    n,
    method: 'Passing–Bablok regression',
    notes: [
      ...(first < 1 ? ['Too few points for the wanted coverage: the interval spans all slopes.'] : []),
      ...(high === Number.POSITIVE_INFINITY
        ? ['The interval of the slope has no upper limit: x varies too little against its scatter.']
        : []),
    ],
  };
}

/**
 * Median of y − slope·x as the slope goes to ±∞: a point at x = 0 keeps its y, all others go to the side of their sign.
 * Where the middle two part, the intercept is open on the side that a positive x would send it to.
 */
function openIntercept(x: readonly number[], y: readonly number[], slope: number): number {
  const heights = Float64Array.from(y, (value, i) => (x[i] === 0 ? value : -slope * x[i]!)).sort();
  const half = heights.length / 2;
  const middle = (heights[Math.ceil(half) - 1]! + heights[Math.floor(half)]!) / 2;
  return Number.isNaN(middle) ? -slope : middle;
}

/** All slopes between two points, sorted; equal points and slopes of −1 are left out, vertical ones are infinite. */
function pairwiseSlopes(x: readonly number[], y: readonly number[]): Float64Array {
  const found: number[] = [];
  for (let i = 0; i < x.length; i++) {
    for (let j = i + 1; j < x.length; j++) {
      const dx = x[j]! - x[i]!;
      const dy = y[j]! - y[i]!;
      if (dx === 0 && dy === 0) continue;
      const slope = dx === 0 ? dy * Number.POSITIVE_INFINITY : dy / dx;
      if (slope !== -1) found.push(slope);
    }
  }
  return Float64Array.from(found).sort();
}
