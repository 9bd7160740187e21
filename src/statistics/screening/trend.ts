import { InputError, requireFinite, requireProbability, requireSameLength } from '../../errors.js';
import { compensatedDot } from '../descriptive/compensated-sum.js';
import { scaledDeviations } from '../descriptive/scaled-deviations.js';
import { studentTSurvival, studentTUpperQuantile } from '../distributions/student-t.js';
import type { Interval } from '../interval.js';

/** Straight trend of a sequence. */
export interface Trend {
  /** Change of the values per unit of time. */
  readonly slope: number;
  readonly standardUncertainty: number;
  readonly interval: Interval;
  readonly degreesOfFreedom: number;
  /** Two-sided p value of no trend. */
  readonly pValue: number;
  readonly n: number;
  readonly method: string;
  readonly notes: readonly string[];
}

/**
 * Slope of a sequence against time by least squares, with its t test.
 *
 * @param values n ≥ 3 finite values in one unit
 * @param times n finite times, not all equal; by default the positions 1 … n
 * @param coverage coverage probability of the interval
 * @throws InputError fewer than three values, a value that is not finite, lists of unequal length, times all equal, a
 *   coverage not between 0 and 1, or a slope or limit beyond 1.8e308
 * @see ISO 33405:2024 (stability studies, from memory)
 * @example
 * trend([10.0, 10.2, 10.1, 10.4]).slope // => 0.11
 */
export function trend(values: ArrayLike<number>, times?: ArrayLike<number>, coverage = 0.95): Trend {
  requireFinite(values, 'values', 3);
  const n = values.length;
  const moments = times ?? Array.from(values, (_, i) => i + 1);
  requireFinite(moments, 'times', 3);
  requireSameLength(values, 'values', moments, 'times');
  requireProbability(coverage, 'coverage');
  const y = scaledDeviations(values);
  const t = scaledDeviations(moments);
  const sumTimes = compensatedDot(t.deviations, t.deviations);
  if (sumTimes === 0) throw new InputError(`times: found ${n} equal times, expected some that differ`);
  const slope = compensatedDot(t.deviations, y.deviations) / sumTimes;
  const residuals = y.deviations.map((d, i) => d - slope * t.deviations[i]!);
  const degreesOfFreedom = n - 2;
  const error = Math.sqrt(compensatedDot(residuals, residuals) / degreesOfFreedom / sumTimes);
  const unit = t.scale / y.scale;
  const ratio = error === 0 ? Number.POSITIVE_INFINITY : Math.abs(slope) / error;
  const reach = studentTUpperQuantile((1 - coverage) / 2, degreesOfFreedom) * error;
  const interval = { low: (slope - reach) * unit, high: (slope + reach) * unit, coverage };
  if (![slope * unit, error * unit, interval.low, interval.high].every(Number.isFinite)) {
    throw new InputError(
      'values: the slope or its limits exceed the range of numbers; expected a coarser unit of time',
    );
  }
  return {
    slope: slope * unit,
    standardUncertainty: error * unit,
    interval,
    degreesOfFreedom,
    pValue: slope === 0 ? 1 : 2 * studentTSurvival(ratio, degreesOfFreedom),
    n,
    method: 'least-squares slope against time',
    notes: error === 0 ? ['the values lie on a line: the slope has no standard uncertainty'] : [],
  };
}
