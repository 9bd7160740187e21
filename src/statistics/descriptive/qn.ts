import { requireFinite } from '../../errors.js';
import { median } from './median.js';
import { requireWithinRange } from './require-within-range.js';
import type { RobustEstimate } from './robust-estimate.js';

/** Asymptotic constant 1/(√2·Φ⁻¹(5/8)). */
const consistency = 2.21914446598508;
/** Factors for n = 2 … 12 that make the estimate unbiased for normal data. */
const smallSample = [
  0.399356, 0.99365, 0.51321, 0.84401, 0.6122, 0.85877, 0.66993, 0.87344, 0.72014, 0.88906, 0.75743,
];

/** How `qn` scales the order statistic of the pairwise distances. */
export interface QnOptions {
  /** 2.2191 by default; ISO 13528 prints 2.2219. */
  readonly constant?: number;
  /** Factor that removes the bias of small samples; true by default. */
  readonly smallSampleFactor?: boolean;
}

/**
 * Qₙ: scale from the first quartile of the distances between pairs of values. Needs no centre, keeps 82 % of the
 * efficiency of the standard deviation for normal data, and stands up to half of the data being wild.
 *
 * @param values n ≥ 2 finite values in one unit
 * @returns scale in the unit of the data; location is the median
 * @throws InputError fewer than two values, one that is not finite, or a result beyond 1.8e308
 * @see Rousseeuw and Croux 1993, J. Am. Stat. Assoc. 88, 1273; ISO 13528:2022, C.5.3 (clause from memory)
 * @example
 * qn([1, 2, 3, 4, 100]).scale // => 1.8729801
 */
export function qn(values: ArrayLike<number>, options: QnOptions = {}): RobustEstimate {
  requireFinite(values, 'values', 2);
  const { constant = consistency, smallSampleFactor = true } = options;
  const n = values.length;
  const half = Math.floor(n / 2) + 1;
  const distance = pairDistance(Float64Array.from(values, (x) => x / 2).sort(), (half * (half - 1)) / 2);
  const factor = smallSampleFactor ? unbiasing(n) : 1;
  return {
    location: median(values),
    scale: requireWithinRange(distance * (2 * constant * factor), 'Qn', 'below 1e308'),
    n,
    iterations: 0,
    method: 'Qn',
    notes: distance === 0 ? ['more than a quarter of the pairs are equal: the scale is 0'] : [],
  };
}

/** The rank-th smallest distance between two of the sorted values: bisection on the distance, pairs counted in one sweep. */
function pairDistance(sorted: Float64Array, rank: number): number {
  if (pairsWithin(sorted, 0) >= rank) return 0;
  let low = 0;
  let high = sorted.at(-1)! - sorted[0]!;
  for (;;) {
    const middle = low + (high - low) / 2;
    if (middle <= low || middle >= high) return high;
    if (pairsWithin(sorted, middle) >= rank) high = middle;
    else low = middle;
  }
}

function pairsWithin(sorted: Float64Array, distance: number): number {
  let count = 0;
  let first = 0;
  for (let last = 1; last < sorted.length; last++) {
    while (sorted[last]! - sorted[first]! > distance) first++;
    count += last - first;
  }
  return count;
}

function unbiasing(n: number): number {
  if (n <= 12) return smallSample[n - 2]!;
  const correction =
    n % 2 === 1 ? 1.60188 + (-2.1284 - 5.172 / n) / n : 3.67561 + (1.9654 + (6.987 - 77 / n) / n) / n;
  return 1 / (1 + correction / n);
}
