import { describe, expect, it } from 'vitest';
import { autocorrelation } from '../../../src/statistics/descriptive/autocorrelation.js';
import { mean } from '../../../src/statistics/descriptive/mean.js';
import { standardDeviation } from '../../../src/statistics/descriptive/standard-deviation.js';
import {
  errorAgainst,
  errorAgainstRoot,
  exactAutocorrelation,
  exactMean,
  exactVariance,
} from '../../support/exact-univariate.js';
import { readReference } from '../../support/reference-sets.js';

type Statistic = 'mean' | 'sd' | 'lag1_autocorrelation';

/** A univariate set of NIST's Statistical Reference Datasets; certified values read in the data files. */
interface UnivariateSet {
  readonly data?: { readonly y: readonly number[] };
  readonly generator?: { readonly base: number; readonly pairs: number };
  readonly certified: Readonly<Record<Statistic, string>>;
  /** Digits of each certified value that data rounded to binary64 allow. */
  readonly digitsOfBinary64Data: Readonly<Record<Statistic, number | 'exact'>>;
}

function valuesOf({ data, generator }: UnivariateSet): readonly number[] {
  if (data) return data.y;
  const { base, pairs } = generator!;
  const tenths = [2, ...Array.from({ length: pairs }, () => [1, 3]).flat()];
  // One division of whole numbers rounds as the decimal text would.
  return tenths.map((k) => (10 * base + k) / 10);
}

const names = ['PiDigits', 'Lottery', 'Lew', 'Mavro', 'NumAcc1', 'NumAcc2', 'NumAcc4'];

describe.each(names)("NIST's univariate set %s", (name) => {
  const set = readReference<UnivariateSet>(`strd/${name.toLowerCase()}`);
  const values = valuesOf(set);
  const computed: Record<Statistic, number> = {
    mean: mean(values),
    sd: standardDeviation(values),
    lag1_autocorrelation: autocorrelation(values),
  };

  it('agrees with exact arithmetic on the binary64 data', () => {
    expect(errorAgainst(computed.mean, exactMean(values))).toBeLessThan(1.2e-16);
    expect(errorAgainstRoot(computed.sd, exactVariance(values))).toBeLessThan(4e-16);
    expect(errorAgainst(computed.lag1_autocorrelation, exactAutocorrelation(values))).toBeLessThan(4e-15);
  });

  it.each(Object.keys(computed) as Statistic[])(
    'reaches the certified %s as far as the data allow',
    (key) => {
      const allowed = set.digitsOfBinary64Data[key];
      // NIST prints 15 digits, the table of allowed digits one decimal.
      const digits = allowed === 'exact' ? 14.5 : Math.min(14.5, allowed - 0.05);
      expect(computed[key]).toHaveCorrectDigits(Number(set.certified[key]), digits);
    },
  );
});
