import { requireFinite } from '../../errors.js';
import { CompensatedSum } from '../descriptive/compensated-sum.js';
import { scaledDeviations } from '../descriptive/scaled-deviations.js';
import { sumOfSquaredDeviations } from '../descriptive/standard-deviation.js';
import { normalLogSurvival } from '../distributions/normal.js';
import type { NormalityTest } from './normality-test.js';
import { allEqual } from './outlier-test.js';

/** Outcome of the Anderson-Darling test. */
export interface AndersonDarling extends NormalityTest {
  /** A²(1 + 0.75/n + 2.25/n²), to which the p value belongs. */
  readonly modified: number;
}

/**
 * Anderson and Darling's test of normality with mean and standard deviation estimated; it looks hardest at the tails.
 *
 * @param values n ≥ 5 finite values in one unit; below 8 the p value is marked as beyond the approximation's range
 * @returns A², its modification for small samples, and the p value by Stephens' approximation
 * @throws InputError fewer than five values, or one that is not finite
 * @see Stephens 1986, in D'Agostino and Stephens, Goodness-of-Fit Techniques, table 4.9
 * @example
 * andersonDarling([1, 2, 3, 4, 5, 6, 7, 30]).statistic // => 1.3564696
 */
export function andersonDarling(values: ArrayLike<number>): AndersonDarling {
  requireFinite(values, 'values', 5);
  const n = values.length;
  const { deviations } = scaledDeviations(values);
  deviations.sort();
  const spread = Math.sqrt(sumOfSquaredDeviations(deviations) / (n - 1));
  const base = { n, method: 'Anderson-Darling, mean and standard deviation estimated' };
  if (spread === 0) return { ...base, statistic: 0, modified: 0, pValue: 1, notes: [allEqual] };
  const sum = new CompensatedSum();
  for (let i = 0; i < n; i++) {
    const below = normalLogSurvival(-deviations[i]! / spread);
    const above = normalLogSurvival(deviations[n - 1 - i]! / spread);
    sum.addProduct(2 * i + 1, below + above);
  }
  const statistic = -n - sum.value() / n;
  const modified = statistic * (1 + 0.75 / n + 2.25 / (n * n));
  const notes = n < 8 ? ['fewer than 8 values: the approximation of p was made for more'] : [];
  return { ...base, statistic, modified, pValue: pValueOf(modified), notes };
}

function pValueOf(a: number): number {
  if (a < 0.2) return 1 - Math.exp(-13.436 + 101.14 * a - 223.73 * a * a);
  if (a < 0.34) return 1 - Math.exp(-8.318 + 42.796 * a - 59.938 * a * a);
  if (a < 0.6) return Math.exp(0.9177 - 4.279 * a - 1.38 * a * a);
  // The parabola of the exponent turns at 153, far below any p value of interest.
  const x = Math.min(a, 153);
  return Math.exp(1.2937 - 5.709 * x + 0.0186 * x * x);
}
