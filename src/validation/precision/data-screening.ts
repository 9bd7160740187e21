import { cochranTest } from '../../statistics/screening/cochran.js';
import { doubleGrubbsTest } from '../../statistics/screening/double-grubbs.js';
import { grubbsTest } from '../../statistics/screening/grubbs.js';
import type { OutlierTest } from '../../statistics/screening/outlier-test.js';
import { type ResultRow, valuesBy } from '../result-row.js';

/** One test of the digestions, with the rows under suspicion. */
export interface ScreeningFlag {
  readonly test: OutlierTest;
  /** What is suspected: the spread within a day, or the mean of one or two days. */
  readonly about: 'spread within a day' | 'mean of a day' | 'means of two days';
  readonly days: readonly string[];
  readonly digestions: readonly string[];
  /** Beyond the 1 % limit an outlier, beyond the 5 % limit a straggler. */
  readonly level: 'outlier' | 'straggler';
}

/**
 * Flags on the results of days × digestions: Cochran on the spread within days, Grubbs on the means of days. A flag sends a person
 * to look for a technical cause; nothing is left out by a test, and only a recorded cause may leave a row out.
 *
 * @param rows one value a digestion; tests that need more days or digestions than there are, are left out
 * @param options `pairs` looks for two days that mask each other, too: true by default, and slow (some 0.05 s)
 * @throws InputError a value that is not finite
 * @see ISO 5725-2:2019, 8.3 (clause from memory)
 */
export function dataScreening(
  rows: readonly ResultRow[],
  options: { readonly pairs?: boolean } = {},
): ScreeningFlag[] {
  const byDay = [...valuesBy(rows, (row) => row.day)];
  const means = byDay.map(([, values]) => values.reduce((sum, value) => sum + value, 0) / values.length);
  const repeated = byDay.filter(([, values]) => values.length > 1);
  const names = byDay.map(([day]) => day);
  return [
    ...flags(
      rows,
      'spread within a day',
      repeated.length > 1
        ? (alpha) =>
            cochranTest(
              repeated.map(([, v]) => v),
              alpha,
            )
        : null,
      repeated.map(([day]) => day),
    ),
    ...meanFlags(rows, means, names, options.pairs ?? true),
  ];
}

/** Single outlying mean first; pairs, which mask each other, only where no single one is flagged. */
function meanFlags(
  rows: readonly ResultRow[],
  means: readonly number[],
  names: readonly string[],
  pairs: boolean,
): ScreeningFlag[] {
  const single = flags(
    rows,
    'mean of a day',
    means.length > 2 ? (alpha) => grubbsTest(means, 'both', alpha) : null,
    names,
  );
  if (!pairs || single.length > 0 || means.length < 4) return single;
  return (['high', 'low'] as const).flatMap((side) =>
    // Both ends are looked at: half the level for each, as the standard does.
    flags(rows, 'means of two days', (alpha) => doubleGrubbsTest(means, side, alpha / 2), names),
  );
}

function flags(
  rows: readonly ResultRow[],
  about: ScreeningFlag['about'],
  run: ((alpha: number) => OutlierTest) | null,
  names: readonly string[],
): ScreeningFlag[] {
  if (run === null) return [];
  const test = run(0.05);
  if (!test.outlying) return [];
  const days = test.suspects.map((position) => names[position]!);
  const digestions = rows.filter((row) => days.includes(row.day)).map((row) => row.key);
  return [{ test, about, days, digestions, level: run(0.01).outlying ? 'outlier' : 'straggler' }];
}

/**
 * A flag in words.
 *
 * @example
 * describeFlag({ test: { statistic: 2.4, critical: 2.2, alpha: 0.05, pValue: 0.01, outlying: true, suspects: [3], n: 10, method: 'Grubbs, two-sided', notes: [] }, about: 'mean of a day', days: ['2026-03-05'], digestions: ['D-7', 'D-8'], level: 'straggler' }) // => 'Flagged as straggler: mean of a day, 2026-03-05 (D-7, D-8), Grubbs, two-sided; kept unless a technical cause is recorded.'
 */
export function describeFlag(flag: ScreeningFlag): string {
  return `Flagged as ${flag.level}: ${flag.about}, ${flag.days.join(' and ')} (${flag.digestions.join(', ')}), ${flag.test.method}; kept unless a technical cause is recorded.`;
}
