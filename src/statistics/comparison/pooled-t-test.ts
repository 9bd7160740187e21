import { mean } from '../descriptive/mean.js';
import { standardDeviation } from '../descriptive/standard-deviation.js';
import { type TTest, type TTestOptions, tTestOfDifference } from './t-test.js';

/**
 * t test of two means whose groups share one variance: first − second with the pooled standard deviation.
 *
 * @param first n₁ ≥ 2 finite values in one unit
 * @param second n₂ ≥ 2 finite values in that unit
 * @throws InputError a group of fewer than two, a value that is not finite, or an option outside its range
 * @see ISO 2854:1976, table C (clause from memory)
 * @example
 * pooledTTest([1, 2, 3], [2, 3, 4]).t // => -1.2247449
 */
export function pooledTTest(
  first: ArrayLike<number>,
  second: ArrayLike<number>,
  options: TTestOptions = {},
): TTest {
  const pooled = pooledStandardDeviation(first, second);
  const error = pooled * Math.sqrt(1 / first.length + 1 / second.length);
  const degreesOfFreedom = first.length + second.length - 2;
  return tTestOfDifference(mean(first) - mean(second), error, degreesOfFreedom, options, 'pooled t test');
}

function pooledStandardDeviation(first: ArrayLike<number>, second: ArrayLike<number>): number {
  const degreesOfFreedom = first.length + second.length - 2;
  const parts = [first, second].map(
    (group) => standardDeviation(group) * Math.sqrt((group.length - 1) / degreesOfFreedom),
  );
  return Math.hypot(...parts);
}
