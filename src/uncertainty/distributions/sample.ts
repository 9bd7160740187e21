import { InputError, requireFinite, requireProbability } from '../../errors.js';
import type { ProbabilityDistribution } from './probability-distribution.js';

/**
 * A quantity known by a sample of values from its distribution, such as the result of an earlier simulation: each value
 * is equally likely. Not for a mean of observations, which has a t distribution.
 *
 * @param values two at least, not all equal
 * @throws InputError fewer than two values, one that is not finite, all equal; a density is refused, as there is none
 * @see JCGM 101:2008, 7.5 (discrete representation of a distribution), 7.6
 * @example
 * sampleDistribution([1, 2, 3, 6]).mean // => 3
 */
export function sampleDistribution(values: readonly number[]): ProbabilityDistribution {
  requireFinite(values, 'sample', 2);
  const sorted = Float64Array.from(values).sort();
  const n = sorted.length;
  const mean = sorted.reduce((sum, value) => sum + value, 0) / n;
  const squares = sorted.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  if (sorted[0] === sorted[n - 1]) throw new InputError(`sample: found ${n} equal values, expected a spread`);
  return {
    mean,
    standardDeviation: Math.sqrt(squares / (n - 1)),
    lower: sorted[0]!,
    upper: sorted[n - 1]!,
    density: () => {
      throw new InputError('a sample has no density; a histogram of its values shows its shape');
    },
    cdf: (x) => countAtMost(sorted, x) / n,
    survival: (x) => (n - countAtMost(sorted, x)) / n,
    quantile: (p) => {
      requireProbability(p, 'probability');
      return sorted[Math.min(n - 1, Math.max(0, Math.ceil(p * n) - 1))]!;
    },
  };
}

function countAtMost(sorted: Float64Array, x: number): number {
  let [low, high] = [0, sorted.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle]! <= x) low = middle + 1;
    else high = middle;
  }
  return low;
}
