import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../src/errors.js';
import { oneSampleTTest } from '../../src/statistics/comparison/one-sample-t-test.js';
import { fTest } from '../../src/statistics/comparison/variance-ratio.js';
import { welchTTest } from '../../src/statistics/comparison/welch-t-test.js';
import { algorithmA } from '../../src/statistics/descriptive/algorithm-a.js';
import { autocorrelation } from '../../src/statistics/descriptive/autocorrelation.js';
import { huberProposal2 } from '../../src/statistics/descriptive/huber-proposal-2.js';
import { mean } from '../../src/statistics/descriptive/mean.js';
import { median } from '../../src/statistics/descriptive/median.js';
import { qn } from '../../src/statistics/descriptive/qn.js';
import { scaledMedianAbsoluteDeviation } from '../../src/statistics/descriptive/scaled-median-absolute-deviation.js';
import { standardDeviation, variance } from '../../src/statistics/descriptive/standard-deviation.js';
import { andersonDarling } from '../../src/statistics/screening/anderson-darling.js';
import { bartlettTest } from '../../src/statistics/screening/bartlett.js';
import { cochranTest } from '../../src/statistics/screening/cochran.js';
import { dixonTest } from '../../src/statistics/screening/dixon.js';
import { generalisedEsd } from '../../src/statistics/screening/generalised-esd.js';
import { grubbsTest } from '../../src/statistics/screening/grubbs.js';
import { leveneTest } from '../../src/statistics/screening/levene.js';
import { mandelConsistency } from '../../src/statistics/screening/mandel-consistency.js';
import { runsTest } from '../../src/statistics/screening/runs-test.js';
import { shapiroWilk } from '../../src/statistics/screening/shapiro-wilk.js';
import { trend } from '../../src/statistics/screening/trend.js';
import { vonNeumannTest } from '../../src/statistics/screening/von-neumann.js';

const count = 12;
/** Twelve values of ordinary size, no two alike, so that order statistics are defined and nothing is degenerate. */
const sample = fc
  .uniqueArray(fc.integer({ min: -50_000, max: 50_000 }), { minLength: count, maxLength: count })
  .map((list) => list.map((k) => k / 64));
const groupsOf = (values: readonly number[]) => [values.slice(0, 4), values.slice(4, 8), values.slice(8)];

/** How a figure follows when all values are shifted by a and scaled by b > 0. */
type Follows = 'location' | 'scale' | 'square of the scale' | 'not at all';

interface Statistic {
  readonly name: string;
  of(values: readonly number[]): number;
  readonly follows: Follows;
  /** Whether the order of the values carries meaning. */
  readonly ordered?: boolean;
}

const statistics: readonly Statistic[] = [
  { name: 'mean', of: mean, follows: 'location' },
  { name: 'median', of: median, follows: 'location' },
  { name: 'standard deviation', of: standardDeviation, follows: 'scale' },
  { name: 'variance', of: variance, follows: 'square of the scale' },
  { name: 'scaled MAD', of: (v) => scaledMedianAbsoluteDeviation(v), follows: 'scale' },
  { name: 'Qn', of: (v) => qn(v).scale, follows: 'scale' },
  { name: 'algorithm A, location', of: (v) => algorithmA(v).location, follows: 'location' },
  { name: 'algorithm A, scale', of: (v) => algorithmA(v).scale, follows: 'scale' },
  { name: 'Huber proposal 2, location', of: (v) => huberProposal2(v).location, follows: 'location' },
  { name: 'autocorrelation', of: (v) => autocorrelation(v), follows: 'not at all', ordered: true },
  { name: 'von Neumann', of: (v) => vonNeumannTest(v).ratio, follows: 'not at all', ordered: true },
  { name: 'runs', of: (v) => runsTest(v).pValue, follows: 'not at all', ordered: true },
  { name: 'trend', of: (v) => trend(v).pValue, follows: 'not at all', ordered: true },
  { name: 'Grubbs', of: (v) => grubbsTest(v).statistic, follows: 'not at all' },
  { name: 'Dixon', of: (v) => dixonTest(v).statistic, follows: 'not at all' },
  { name: 'Shapiro-Wilk', of: (v) => shapiroWilk(v).statistic, follows: 'not at all' },
  { name: 'Anderson-Darling', of: (v) => andersonDarling(v).statistic, follows: 'not at all' },
  { name: 'Cochran', of: (v) => cochranTest(groupsOf(v)).statistic, follows: 'not at all', ordered: true },
  { name: 'Levene', of: (v) => leveneTest(groupsOf(v)).statistic, follows: 'not at all', ordered: true },
  { name: 'Bartlett', of: (v) => bartlettTest(groupsOf(v)).statistic, follows: 'not at all', ordered: true },
  { name: 'F', of: (v) => fTest(v.slice(0, 6), v.slice(6)).ratio, follows: 'not at all', ordered: true },
  { name: 'Welch', of: (v) => welchTTest(v.slice(0, 6), v.slice(6)).t, follows: 'not at all', ordered: true },
];

describe('every statistic', () => {
  it.each(statistics.map((s) => [s.name, s] as const))(
    '%s follows shift and scale, and forgets the order',
    (_, statistic) => {
      fc.assert(
        fc.property(
          sample,
          fc.integer({ min: -4000, max: 4000 }),
          fc.constantFrom(0.25, 0.5, 2, 8),
          (values, shift, scale) => {
            const found = statistic.of(values);
            const moved = statistic.of(values.map((v) => v * scale + shift));
            const expected = {
              location: found * scale + shift,
              scale: found * scale,
              'square of the scale': found * scale * scale,
              'not at all': found,
            }[statistic.follows];
            expect(Math.abs(moved - expected)).toBeLessThanOrEqual(1e-9 * Math.max(1, Math.abs(expected)));
            if (!statistic.ordered) {
              const turned = statistic.of([...values].reverse());
              expect(Math.abs(turned - found)).toBeLessThanOrEqual(1e-12 * Math.max(1, Math.abs(found)));
            }
          },
        ),
        { seed: 20260302, numRuns: 60 },
      );
    },
  );

  const all: readonly (readonly [string, (values: readonly number[]) => unknown])[] = [
    ...statistics.map((s) => [s.name, s.of] as const),
    ['generalised ESD', (v) => generalisedEsd(v, 2)],
    ['Mandel', (v) => mandelConsistency(groupsOf(v))],
    ['one-sample t', (v) => oneSampleTTest(v)],
  ];
  it.each(all)('%s refuses no values, NaN and Infinity', (_, of) => {
    const twelve = Array.from({ length: count }, (__, i) => i * i);
    expect(() => of([])).toThrow(InputError);
    for (const wrong of [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]) {
      expect(() => of([...twelve.slice(0, -1), wrong])).toThrow(InputError);
      expect(() => of([wrong, ...twelve.slice(1)])).toThrow(InputError);
    }
  });
});
