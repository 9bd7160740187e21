import { InputError, requireInteger, requireNonNegative, requirePositive } from '../../errors.js';
import { chiSquaredCdf, chiSquaredQuantile } from '../../statistics/distributions/chi-squared.js';
import { averageOverChiSquared } from './average-over-chi-squared.js';

/** Days × digestions for one level, with the spread expected. */
export interface PrecisionPlan {
  readonly days: number;
  readonly digestionsPerDay: number;
  /** σ²_day ÷ σ²_digestion that is expected. */
  readonly varianceRatio: number;
  /** Digestions whose mean is a reported result; 1 where not given. */
  readonly digestionsPerResult?: number;
}

/**
 * Probability that the Graybill–Wang upper 95 % limit of the intermediate precision standard deviation keeps its criterion.
 *
 * The limit grows with both mean squares; for each value of the one within days the largest one between days that still passes is
 * the root of a quadratic, and its χ² probability is averaged over the former.
 *
 * @param criterionRatio criterion ÷ true σ_I
 * @throws InputError fewer than 2 days or digestions a day, more digestions in a result than a day has
 * @see Graybill and Wang 1980, J. Am. Stat. Assoc. 75, 869
 * @example
 * powerForIntermediatePrecision({ days: 10, digestionsPerDay: 2, varianceRatio: 1 }, 1.9) > 0.85 // => true
 */
export function powerForIntermediatePrecision(plan: PrecisionPlan, criterionRatio: number): number {
  const { days, digestionsPerDay: n, varianceRatio, digestionsPerResult = 1 } = plan;
  requireInteger(days, 'days', 2);
  requireInteger(n, 'digestions a day', 2);
  requireInteger(digestionsPerResult, 'digestions of a result', 1);
  requireNonNegative(varianceRatio, 'ratio of variances');
  requirePositive(criterionRatio, 'criterion ÷ expected standard deviation');
  const second = 1 / digestionsPerResult - 1 / n;
  if (second < 0) {
    throw new InputError(
      `digestions of a result: found ${digestionsPerResult}, expected at most ${n} as in the design`,
    );
  }
  const between = days - 1;
  const within = days * (n - 1);
  const h1 = between / chiSquaredQuantile(0.05, between) - 1;
  const h2 = within / chiSquaredQuantile(0.05, within) - 1;
  // In units of σ²_digestion: the limit squared that is allowed, and the mean square between days that is expected.
  const allowed = criterionRatio ** 2 * (varianceRatio + 1 / digestionsPerResult);
  const expectedBetween = n * varianceRatio + 1;
  return averageOverChiSquared(within, (meanSquareWithin) => {
    if (meanSquareWithin / digestionsPerResult > allowed) return 0;
    const largest = n * largestFirstTerm(allowed, second * meanSquareWithin, h1, h2);
    return largest <= 0 ? 0 : chiSquaredCdf((largest * between) / expectedBetween, between);
  });
}

/** Largest a with a + b + √((h1·a)² + (h2·b)²) ≤ allowed; below 0 where there is none. */
function largestFirstTerm(allowed: number, b: number, h1: number, h2: number): number {
  const room = allowed - b;
  const rest = room ** 2 - (h2 * b) ** 2;
  if (room <= 0 || rest <= 0) return -1;
  // (room − a)² = (h1·a)² + (h2·b)²: the smaller root, in the form that does not cancel.
  return rest / (room + Math.sqrt(room ** 2 + (h1 ** 2 - 1) * rest));
}
