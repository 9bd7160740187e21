import { requireFinite, requireSameLength } from '../../errors.js';
import { mean } from '../descriptive/mean.js';
import { standardDeviation } from '../descriptive/standard-deviation.js';
import { type TTest, type TTestOptions, tTestOfDifference } from './t-test.js';

/**
 * t test of pairs: the mean of the differences first − second.
 *
 * @param first n ≥ 2 finite values
 * @param second n finite values in the same unit, pair by pair
 * @throws InputError fewer than two pairs, lists of unequal length, a value that is not finite, or an option out of range
 * @see ISO 2854:1976, table D (clause from memory)
 * @example
 * pairedTTest([10.1, 10.3, 10.2], [10.0, 10.1, 10.15]).degreesOfFreedom // => 2
 */
export function pairedTTest(
  first: ArrayLike<number>,
  second: ArrayLike<number>,
  options: TTestOptions = {},
): TTest {
  requireFinite(first, 'first', 2);
  requireFinite(second, 'second', 2);
  requireSameLength(first, 'first', second, 'second');
  const differences = Array.from(first, (x, i) => x - second[i]!);
  const error = standardDeviation(differences) / Math.sqrt(differences.length);
  return tTestOfDifference(mean(differences), error, differences.length - 1, options, 'paired t test');
}
