import { requireFinite, requirePositive } from '../../errors.js';
import { studentTQuantile, studentTSurvival } from '../../statistics/distributions/student-t.js';

/** Whether a mean recovery differs from 1 by more than chance explains. */
export interface RecoverySignificance {
  /** |1 − R|/u(R). */
  readonly t: number;
  /** Two-sided, 5 %. */
  readonly criticalValue: number;
  readonly pValue: number;
  readonly significant: boolean;
}

/**
 * Test of a mean recovery against 1: t = |1 − R|/u(R) against the two-sided 95 % value of Student's t.
 *
 * Answers whether results should be corrected; a recovery that is not significantly different may still be uncertain, so u(R) stays
 * in the budget either way.
 *
 * @param standardUncertainty of the mean recovery, above 0, that of the reference value included
 * @param degreesOfFreedom of that uncertainty, above 0
 * @throws InputError a recovery that is not finite; an uncertainty or degrees of freedom not above 0
 * @see QUAM:2012, example A4 (test of the mean recovery; from memory) and 7.7 (clause from memory); Barwick and Ellison 1999, Analyst 124, 981
 * @example
 * recoverySignificance(0.9, 0.28 / Math.sqrt(42), 41).t // => 2.314550
 */
export function recoverySignificance(
  recovery: number,
  standardUncertainty: number,
  degreesOfFreedom: number,
): RecoverySignificance {
  requireFinite([recovery], 'mean recovery');
  requirePositive(standardUncertainty, 'standard uncertainty of the mean recovery');
  if (degreesOfFreedom !== Number.POSITIVE_INFINITY) {
    requirePositive(degreesOfFreedom, 'degrees of freedom of the mean recovery');
  }
  const t = Math.abs(1 - recovery) / standardUncertainty;
  const criticalValue = studentTQuantile(0.975, degreesOfFreedom);
  const pValue = 2 * studentTSurvival(t, degreesOfFreedom);
  return { t, criticalValue, pValue, significant: t > criticalValue };
}
