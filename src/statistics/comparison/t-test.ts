import { InputError, requireFinite, requireNonNegative, requireProbability } from '../../errors.js';
import { studentTCdf, studentTSurvival, studentTUpperQuantile } from '../distributions/student-t.js';
import type { Interval } from '../interval.js';

/** Outcome of a t test of a difference. */
export interface TTest {
  /** Observed difference in the unit of the data. */
  readonly difference: number;
  readonly standardUncertainty: number;
  /** (difference − hypothesis)/standard uncertainty; infinite where there is no scatter. */
  readonly t: number;
  readonly degreesOfFreedom: number;
  /** Two-sided. */
  readonly pValue: number;
  /** One-sided, against a difference below the hypothesis. */
  readonly pBelow: number;
  /** One-sided, against a difference above the hypothesis. */
  readonly pAbove: number;
  readonly interval: Interval;
  readonly method: string;
  readonly notes: readonly string[];
}

/** What a t test asks. */
export interface TTestOptions {
  /** Difference under the hypothesis; 0 by default. */
  readonly hypothesis?: number;
  /** Coverage probability of the interval; 0.95 by default. */
  readonly coverage?: number;
}

/**
 * t test of a difference whose standard uncertainty and degrees of freedom are known, the common end of all t tests.
 *
 * @param difference observed difference
 * @param standardUncertainty its standard uncertainty, at least 0
 * @param degreesOfFreedom above 0, Infinity included
 * @throws InputError a parameter outside its range
 * @example
 * tTestOfDifference(1.2, 0.5, 8).pValue // => 0.043176728
 */
export function tTestOfDifference(
  difference: number,
  standardUncertainty: number,
  degreesOfFreedom: number,
  options: TTestOptions = {},
  method = 't test of a difference',
): TTest {
  const { hypothesis = 0, coverage = 0.95 } = options;
  requireFinite([difference, hypothesis], 'difference and hypothesis');
  requireNonNegative(standardUncertainty, 'standard uncertainty');
  requireProbability(coverage, 'coverage');
  if (!(degreesOfFreedom > 0)) {
    throw new InputError(`degrees of freedom: found ${degreesOfFreedom}, expected a number above 0`);
  }
  const excess = difference - hypothesis;
  const t = excess === 0 ? 0 : excess / standardUncertainty;
  const reach = studentTUpperQuantile((1 - coverage) / 2, degreesOfFreedom) * standardUncertainty;
  return {
    difference,
    standardUncertainty,
    t,
    degreesOfFreedom,
    pValue: 2 * studentTSurvival(Math.abs(t), degreesOfFreedom),
    pBelow: studentTCdf(t, degreesOfFreedom),
    pAbove: studentTSurvival(t, degreesOfFreedom),
    interval: { low: difference - reach, high: difference + reach, coverage },
    method,
    notes: standardUncertainty === 0 ? ['there is no scatter: the test has no meaning beyond equality'] : [],
  };
}
