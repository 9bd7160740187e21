import { requireInteger, requireNonNegative, requirePositive } from '../../errors.js';
import { normalCdf } from '../../statistics/distributions/normal.js';
import { studentTQuantile } from '../../statistics/distributions/student-t.js';
import { averageOverChiSquared } from './average-over-chi-squared.js';

/** A mean over days (bias, recovery, deviation) that must be shown to lie within what is allowed. */
export interface MeanPlan {
  /** Largest deviation allowed, expected deviation, in one unit. */
  readonly allowed: number;
  readonly expected: number;
  /** Standard deviation of one day's mean. */
  readonly dayStandardDeviation: number;
  /** Standard uncertainty that days do not lower: certified value, amount added. */
  readonly fixedStandardUncertainty: number;
}

/**
 * Probability that |mean| + t_{0.95,ν}·u stays within what is allowed, for a number of days: over the scatter of the mean, of its
 * estimated standard deviation, and of the reference.
 *
 * @throws InputError fewer than 2 days, nothing that scatters
 * @see Schuirmann 1987, J. Pharmacokinet. Biopharm. 15, 657 (two one-sided tests)
 * @example
 * powerForMean({ allowed: 3, expected: 0, dayStandardDeviation: 1, fixedStandardUncertainty: 0 }, 6) > 0.99 // => true
 */
export function powerForMean(plan: MeanPlan, days: number): number {
  const { allowed, expected, dayStandardDeviation, fixedStandardUncertainty: fixed } = plan;
  requirePositive(allowed, 'allowed deviation');
  requireNonNegative(fixed, 'fixed standard uncertainty');
  requirePositive(dayStandardDeviation, 'standard deviation of a day');
  requireInteger(days, 'days', 2);
  const nu = days - 1;
  const variance = dayStandardDeviation ** 2 / days;
  const spread = Math.hypot(Math.sqrt(variance), fixed);
  return averageOverChiSquared(nu, (ratio) => {
    const own = ratio * variance;
    const total = own + fixed ** 2;
    const reach = studentTQuantile(0.95, fixed === 0 ? nu : (total / own) ** 2 * nu) * Math.sqrt(total);
    const room = allowed - reach;
    if (room <= 0) return 0;
    return normalCdf((room - expected) / spread) - normalCdf((-room - expected) / spread);
  });
}
