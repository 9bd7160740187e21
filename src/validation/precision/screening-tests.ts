import { cochranTest } from '../../statistics/screening/cochran.js';
import { type GeneralisedEsd, generalisedEsd } from '../../statistics/screening/generalised-esd.js';
import { grubbsTest } from '../../statistics/screening/grubbs.js';
import { type MandelConsistency, mandelConsistency } from '../../statistics/screening/mandel-consistency.js';
import type { OutlierTest } from '../../statistics/screening/outlier-test.js';
import { type ResultRow, valuesBy } from '../result-row.js';
import { dataScreening, type ScreeningFlag } from './data-screening.js';

/** Every test of the digestions of one level, and what they flag. Null where there are too few days or digestions. */
export interface ScreeningTests {
  readonly days: readonly string[];
  /** Largest variance within a day against the sum of all. */
  readonly cochran: OutlierTest | null;
  /** Mean of a day farthest from the mean of all. */
  readonly grubbs: OutlierTest | null;
  /** Mandel's h and k of the days that hold two digestions or more. */
  readonly consistency: MandelConsistency | null;
  readonly consistencyDays: readonly string[];
  /** Several outlying means of days that may mask each other. */
  readonly severalMeans: GeneralisedEsd | null;
  readonly flags: readonly ScreeningFlag[];
}

/** Outlying means looked for at once. */
const mostOutliers = 3;

/**
 * Screening tests of days × digestions side by side: Cochran, Grubbs (also for pairs), Mandel's h and k, generalised ESD. They flag
 * and never remove: only a recorded technical cause leaves a row out.
 *
 * @param rows one value a digestion
 * @throws InputError a value that is not finite
 * @see ISO 5725-2:2019, 8.3 (clause from memory); Rosner 1983, Technometrics 25, 165
 */
export function screeningTests(rows: readonly ResultRow[]): ScreeningTests {
  const byDay = [...valuesBy(rows, (row) => row.day)];
  const repeated = byDay.filter(([, values]) => values.length > 1);
  const spreads = repeated.map(([, values]) => values);
  const means = byDay.map(([, values]) => values.reduce((sum, value) => sum + value, 0) / values.length);
  const most = Math.min(mostOutliers, means.length - 2);
  return {
    days: byDay.map(([day]) => day),
    cochran: repeated.length > 1 ? cochranTest(spreads) : null,
    grubbs: means.length > 2 ? grubbsTest(means, 'both') : null,
    consistency: repeated.length > 2 ? mandelConsistency(spreads) : null,
    consistencyDays: repeated.map(([day]) => day),
    severalMeans: most < 1 ? null : generalisedEsd(means, most),
    flags: dataScreening(rows),
  };
}
