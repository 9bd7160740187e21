import { InputError } from '../../errors.js';
import type { MeanSquareTerm } from '../../statistics/analysis-of-variance/mean-square-term.js';
import { oneWayAnalysis } from '../../statistics/analysis-of-variance/one-way.js';
import { remlNested } from '../../statistics/analysis-of-variance/reml-nested.js';
import { mean } from '../../statistics/descriptive/mean.js';
import { variance } from '../../statistics/descriptive/standard-deviation.js';
import { type ResultRow, valuesBy } from '../result-row.js';

/** Results of days × digestions taken apart. Variances are in the squared unit of the results. */
export interface DayComponents {
  readonly mean: number;
  readonly n: number;
  readonly days: readonly { readonly day: string; readonly mean: number; readonly n: number }[];
  readonly balanced: boolean;
  /** Harmonic mean of the digestions a day; their number where all days have equally many. */
  readonly digestionsPerDay: number;
  /** Harmonic number of digestions × variance of the day means: the mean square between days where balanced. */
  readonly meanSquareBetween: number;
  readonly degreesOfFreedomBetween: number;
  readonly meanSquareWithin: number;
  readonly degreesOfFreedomWithin: number;
  /** Variance between days, never below 0. */
  readonly dayVariance: number;
  readonly dayVarianceAtBoundary: boolean;
  /** Variance of one digestion within a day. */
  readonly digestionVariance: number;
  readonly method: string;
}

/**
 * Variance between days and between digestions of one day.
 *
 * Equally many digestions a day: one-way analysis of variance. Else: restricted maximum likelihood for the components, and for
 * their limits the mean square of the day means (harmonic number of digestions × their variance), which is nearly χ².
 *
 * @throws InputError fewer than 2 days, no day with 2 digestions, a value that is not finite
 * @see ISO 5725-3:2023, 8 (clause from memory); JCGM 100:2008 (GUM), H.5; Burdick and Graybill 1992, Confidence Intervals on
 *   Variance Components, 4.3 (unweighted mean square; clause from memory)
 * @example
 * dayComponents([['1', 9], ['1', 11], ['2', 14], ['2', 16]].map(([day, value], i) => ({ key: `D-${i}`, day: `${day}`, value: Number(value) }))).dayVariance // => 11.5
 */
export function dayComponents(rows: readonly ResultRow[]): DayComponents {
  const byDay = valuesBy(rows, (row) => row.day);
  const groups = [...byDay.values()];
  if (groups.length < 2) {
    throw new InputError(`precision: found ${groups.length} day(s), expected at least 2`);
  }
  const sizes = groups.map((group) => group.length);
  if (Math.max(...sizes) < 2) {
    throw new InputError('precision: found one digestion a day, expected a day with at least 2');
  }
  const balanced = Math.min(...sizes) === Math.max(...sizes);
  const analysis = oneWayAnalysis(groups);
  const dayMeans = groups.map((group) => mean(group));
  const perDay = groups.length / sizes.reduce((sum, size) => sum + 1 / size, 0);
  return {
    mean: mean(dayMeans),
    n: rows.length,
    days: [...byDay].map(([day, values], i) => ({ day, mean: dayMeans[i]!, n: values.length })),
    balanced,
    digestionsPerDay: perDay,
    meanSquareBetween: perDay * variance(dayMeans),
    degreesOfFreedomBetween: groups.length - 1,
    meanSquareWithin: analysis.meanSquareWithin,
    degreesOfFreedomWithin: analysis.degreesOfFreedomWithin,
    // Without any spread within days the likelihood has no maximum, and the analysis of variance says the same.
    ...(balanced || analysis.meanSquareWithin === 0
      ? {
          dayVariance: analysis.betweenVariance,
          dayVarianceAtBoundary: analysis.betweenAtBoundary,
          digestionVariance: analysis.withinVariance,
          method: 'analysis of variance, days × digestions',
        }
      : restricted(rows)),
  };
}

function restricted(
  rows: readonly ResultRow[],
): Pick<DayComponents, 'dayVariance' | 'dayVarianceAtBoundary' | 'digestionVariance' | 'method'> {
  const fit = remlNested(
    rows.map((row) => row.value),
    [{ name: 'day', levels: rows.map((row) => row.day) }],
  );
  const [day, digestion] = fit.components;
  return {
    dayVariance: day!.variance,
    dayVarianceAtBoundary: day!.atBoundary,
    digestionVariance: digestion!.variance,
    method: 'restricted maximum likelihood, unequal digestions a day',
  };
}

/**
 * Mean squares whose sum estimates the variance of a result of `digestionsPerResult` digestions of one day.
 *
 * @example
 * termsOfResult({ digestionsPerDay: 2, meanSquareBetween: 4, degreesOfFreedomBetween: 5, meanSquareWithin: 1, degreesOfFreedomWithin: 6 }, 1)[1].coefficient // => 0.5
 */
export function termsOfResult(
  components: Pick<
    DayComponents,
    | 'digestionsPerDay'
    | 'meanSquareBetween'
    | 'degreesOfFreedomBetween'
    | 'meanSquareWithin'
    | 'degreesOfFreedomWithin'
  >,
  digestionsPerResult: number,
): readonly [MeanSquareTerm, MeanSquareTerm] {
  return [
    {
      coefficient: 1 / components.digestionsPerDay,
      meanSquare: components.meanSquareBetween,
      degreesOfFreedom: components.degreesOfFreedomBetween,
    },
    {
      coefficient: 1 / digestionsPerResult - 1 / components.digestionsPerDay,
      meanSquare: components.meanSquareWithin,
      degreesOfFreedom: components.degreesOfFreedomWithin,
    },
  ];
}
