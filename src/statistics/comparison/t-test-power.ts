import { requireFinite, requirePositive, requireProbability } from '../../errors.js';
import { noncentralTCdf, noncentralTSurvival } from '../distributions/noncentral-t.js';
import { studentTUpperQuantile } from '../distributions/student-t.js';
import { type Power, smallestSampleSize } from './sample-size.js';

/** One sample or pairs: n values or differences; two samples: n values in each of two groups of one variance. */
export type TTestKind = 'one-sample' | 'paired' | 'two-sample';

/** A t test as planned. */
export interface TTestDesign {
  readonly kind: TTestKind;
  /** True difference to be found, in the unit of the standard deviation. */
  readonly difference: number;
  /** True standard deviation of a value, for pairs of a difference. */
  readonly standardDeviation: number;
  /** Level; 0.05 by default. */
  readonly alpha?: number;
  /** 2 by default; 1 tests against a difference of the sign of `difference`. */
  readonly sides?: 1 | 2;
}

/**
 * Power of a t test: the probability that it finds the true difference significant. Both tails count.
 *
 * @param n values, pairs, or values per group; above 1, need not be whole
 * @throws InputError a parameter outside its range
 * @see Cohen 1988, Statistical Power Analysis for the Behavioral Sciences, ch. 2
 * @example
 * tTestPower(10, { kind: 'two-sample', difference: 1, standardDeviation: 1 }).power // => 0.56200665
 */
export function tTestPower(n: number, design: TTestDesign): Power {
  const { kind, difference, standardDeviation, alpha = 0.05, sides = 2 } = design;
  requireFinite([difference], 'difference');
  requirePositive(standardDeviation, 'standard deviation');
  requireProbability(alpha, 'alpha');
  const groups = kind === 'two-sample' ? 2 : 1;
  const nu = groups * (n - 1);
  const delta = (Math.abs(difference) / standardDeviation) * Math.sqrt(n / groups);
  const critical = studentTUpperQuantile(alpha / sides, nu);
  const wrongTail = sides === 2 ? noncentralTCdf(-critical, nu, delta) : 0;
  const power = noncentralTSurvival(critical, nu, delta) + wrongTail;
  return { n, power, method: `${kind} t test, ${sides}-sided, noncentral t`, notes: [] };
}

/**
 * Smallest number of values, pairs, or values per group with which a t test reaches a power.
 *
 * @param power between 0 and 1
 * @throws InputError a parameter outside its range, or no difference to find
 * @example
 * tTestSampleSize(0.9, { kind: 'two-sample', difference: 1, standardDeviation: 1 }).n // => 23
 */
export function tTestSampleSize(power: number, design: TTestDesign): Power {
  requireProbability(power, 'power');
  requirePositive(Math.abs(design.difference), 'size of the difference');
  return smallestSampleSize((n) => tTestPower(n, design), power, 2);
}
