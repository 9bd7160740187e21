import { InputError, requireProbability } from '../../errors.js';
import { median } from '../descriptive/median.js';
import { normalQuantile } from '../distributions/normal.js';
import type { Interval } from '../interval.js';
import { requirePoints } from './line.js';

/** Passing–Bablok regression of one method on another. */
export interface PassingBablokFit {
  readonly intercept: number;
  readonly slope: number;
  readonly interceptInterval: Interval;
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
 * For two methods on one scale with a slope near 1; memory and time grow with n².
 *
 * @param x 10 results or more by one method
 * @param y as many by the other
 * @param coverage coverage probability of the intervals; default 0.95
 * @throws InputError too few points, no usable slopes, a value that is not finite
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
  const at = (rank: number): number => slopes[Math.min(count, Math.max(1, rank)) - 1]!;
  const middle =
    count % 2 === 1
      ? at((count + 1) / 2 + offset)
      : (at(count / 2 + offset) + at(count / 2 + 1 + offset)) / 2;
  const reach = normalQuantile((1 + coverage) / 2) * Math.sqrt((n * (n - 1) * (2 * n + 5)) / 18);
  const first = Math.round((count - reach) / 2);
  const low = at(first + offset);
  const high = at(count - first + 1 + offset);
  if (!Number.isFinite(middle))
    throw new InputError('passing-bablok: the median slope is not finite; x hardly varies');
  const intercept = (slope: number) => median(y.map((value, i) => value - slope * x[i]!));
  return {
    slope: middle,
    intercept: intercept(middle),
    slopeInterval: { low, high, coverage },
    interceptInterval: { low: intercept(high), high: intercept(low), coverage },
    slopes: count,
    offset,
    n,
    method: 'Passing–Bablok regression',
    notes: first < 1 ? ['Too few points for the wanted coverage: the interval spans all slopes.'] : [],
  };
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
