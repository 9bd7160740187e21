import { mean } from '../descriptive/mean.js';
import { standardDeviation } from '../descriptive/standard-deviation.js';
import { type TTest, type TTestOptions, tTestOfDifference } from './t-test.js';

/**
 * t test of two means whose groups may differ in variance: first − second, degrees of freedom after Welch.
 *
 * @param first n₁ ≥ 2 finite values in one unit
 * @param second n₂ ≥ 2 finite values in that unit
 * @throws InputError a group of fewer than two, a value that is not finite, or an option outside its range
 * @see Welch 1947, Biometrika 34, 28; JCGM 100:2008, G.4.1
 * @example
 * welchTTest([1, 2, 3], [2, 3, 4]).degreesOfFreedom // => 4
 */
export function welchTTest(
  first: ArrayLike<number>,
  second: ArrayLike<number>,
  options: TTestOptions = {},
): TTest {
  const errors = [first, second].map((group) => standardDeviation(group) / Math.sqrt(group.length));
  const total = Math.hypot(...errors);
  const degreesOfFreedom = welchDegreesOfFreedom(errors, [first.length - 1, second.length - 1]);
  return tTestOfDifference(mean(first) - mean(second), total, degreesOfFreedom, options, 'Welch t test');
}

/** 1/Σ(share²/ν), the shares of the variance of the difference; Σν where there is no variance at all. */
function welchDegreesOfFreedom(errors: readonly number[], degrees: readonly number[]): number {
  const total = Math.hypot(...errors);
  if (total === 0) return degrees.reduce((a, b) => a + b, 0);
  return 1 / errors.reduce((sum, u, i) => sum + (u / total) ** 4 / degrees[i]!, 0);
}
