import { mean } from '../descriptive/mean.js';
import { standardDeviation } from '../descriptive/standard-deviation.js';
import { type TTest, type TTestOptions, tTestOfDifference } from './t-test.js';

/**
 * t test of a mean against a stated value (the `hypothesis`); `difference` of the result is the mean itself.
 *
 * @param values n ≥ 2 finite values in one unit
 * @throws InputError fewer than two values, one that is not finite, or an option outside its range
 * @see ISO 2854:1976, table A (clause from memory)
 * @example
 * oneSampleTTest([10.1, 10.3, 10.2, 10.4], { hypothesis: 10 }).t // => 3.8729833
 */
export function oneSampleTTest(values: ArrayLike<number>, options: TTestOptions = {}): TTest {
  const error = standardDeviation(values) / Math.sqrt(values.length);
  return tTestOfDifference(mean(values), error, values.length - 1, options, 'one-sample t test');
}
