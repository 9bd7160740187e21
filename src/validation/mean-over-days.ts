import { InputError, requireFinite } from '../errors.js';
import { mean } from '../statistics/descriptive/mean.js';
import { standardDeviation } from '../statistics/descriptive/standard-deviation.js';
import type { ResultRow } from './result-row.js';
import { valuesBy } from './result-row.js';

/** Mean of one day's results. */
export interface DayMean {
  readonly day: string;
  readonly mean: number;
  readonly n: number;
}

/** Mean over days, with the standard uncertainty that the scatter of day means gives. */
export interface MeanOverDays {
  readonly mean: number;
  /** Standard deviation of the day means ÷ √days; null where there is one day only. */
  readonly standardUncertainty: number | null;
  readonly degreesOfFreedom: number;
  readonly days: readonly DayMean[];
  readonly n: number;
}

/**
 * Mean of results that share their day: the days are the independent units, so each day's mean counts once.
 *
 * With equally many results a day this is the grand mean, and its squared standard uncertainty is
 * MS_day/(D·n) of the analysis of variance. With unequal numbers it stays unbiased and its degrees of freedom D − 1.
 *
 * @throws InputError no row, or a value that is not finite
 * @see JCGM 100:2008 (GUM), H.5.2.5 (clause from memory)
 * @example
 * meanOverDays([{ key: 'a', day: '1', value: 9 }, { key: 'b', day: '2', value: 11 }]).standardUncertainty // => 1
 */
export function meanOverDays(rows: readonly Pick<ResultRow, 'day' | 'value'>[]): MeanOverDays {
  if (rows.length === 0) throw new InputError('results: found none, expected at least 1');
  requireFinite(
    rows.map((row) => row.value),
    'results',
  );
  const days = [...valuesBy(rows, (row) => row.day)].map(([day, values]) => ({
    day,
    mean: mean(values),
    n: values.length,
  }));
  const means = days.map((day) => day.mean);
  return {
    mean: mean(means),
    standardUncertainty: means.length > 1 ? standardDeviation(means) / Math.sqrt(means.length) : null,
    degreesOfFreedom: means.length - 1,
    days,
    n: rows.length,
  };
}
