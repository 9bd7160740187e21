import { InputError, requireFinite, requireProbability } from '../../errors.js';
import { studentTCdf, studentTSurvival, studentTUpperQuantile } from '../distributions/student-t.js';
import type { Interval } from '../interval.js';
import type { TTest } from './t-test.js';

/** Outcome of two one-sided tests. */
export interface EquivalenceTest {
  readonly difference: number;
  readonly low: number;
  readonly high: number;
  /** (difference − low)/standard uncertainty: large where the difference clears the lower limit. */
  readonly tLow: number;
  /** (difference − high)/standard uncertainty: far below 0 where it clears the upper limit. */
  readonly tHigh: number;
  readonly pLow: number;
  readonly pHigh: number;
  /** Larger of the two. */
  readonly pValue: number;
  /** Interval of coverage 1 − 2·alpha, inside the limits exactly where equivalence is shown. */
  readonly interval: Interval;
  readonly equivalent: boolean;
  readonly alpha: number;
  readonly degreesOfFreedom: number;
  readonly method: string;
  readonly notes: readonly string[];
}

/**
 * Two one-sided tests: is the difference shown to lie between two limits?
 *
 * @param test any t test of the difference (paired, pooled, Welch …); its own hypothesis plays no part
 * @param low lower limit of differences that do not matter
 * @param high upper limit, above `low`
 * @param alpha level of each one-sided test, between 0 and 0.5
 * @throws InputError limits out of order or not finite, or alpha out of range
 * @see Schuirmann 1987, J. Pharmacokinet. Biopharm. 15, 657
 * @example
 * const test = { difference: 0.1, standardUncertainty: 0.2, degreesOfFreedom: 18 };
 * equivalenceTest(test, -0.5, 0.5).equivalent // => true
 */
export function equivalenceTest(
  test: Pick<TTest, 'difference' | 'standardUncertainty' | 'degreesOfFreedom'>,
  low: number,
  high: number,
  alpha = 0.05,
): EquivalenceTest {
  requireFinite([low, high], 'limits');
  requireProbability(2 * alpha, 'twice alpha');
  if (low >= high) throw new InputError(`limits: found ${low} and ${high}, expected the lower one first`);
  const { difference, standardUncertainty: u, degreesOfFreedom } = test;
  const tLow = difference === low ? 0 : (difference - low) / u;
  const tHigh = difference === high ? 0 : (difference - high) / u;
  const pLow = studentTSurvival(tLow, degreesOfFreedom);
  const pHigh = studentTCdf(tHigh, degreesOfFreedom);
  const pValue = Math.max(pLow, pHigh);
  const reach = studentTUpperQuantile(alpha, degreesOfFreedom) * u;
  return {
    difference,
    low,
    high,
    tLow,
    tHigh,
    pLow,
    pHigh,
    pValue,
    interval: { low: difference - reach, high: difference + reach, coverage: 1 - 2 * alpha },
    equivalent: pValue < alpha,
    alpha,
    degreesOfFreedom,
    method: 'two one-sided t tests',
    notes: [],
  };
}
