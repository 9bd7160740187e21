import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../src/errors.js';
import { oneWayAnalysis } from '../../src/statistics/analysis-of-variance/one-way.js';
import { equivalenceTest } from '../../src/statistics/comparison/equivalence-test.js';
import { oneSampleTTest } from '../../src/statistics/comparison/one-sample-t-test.js';
import { pairedTTest } from '../../src/statistics/comparison/paired-t-test.js';
import { pooledTTest } from '../../src/statistics/comparison/pooled-t-test.js';
import { fTest } from '../../src/statistics/comparison/variance-ratio.js';
import { welchTTest } from '../../src/statistics/comparison/welch-t-test.js';
import { algorithmA } from '../../src/statistics/descriptive/algorithm-a.js';
import { autocorrelation } from '../../src/statistics/descriptive/autocorrelation.js';
import { huberProposal2 } from '../../src/statistics/descriptive/huber-proposal-2.js';
import { mean } from '../../src/statistics/descriptive/mean.js';
import { median } from '../../src/statistics/descriptive/median.js';
import { shape } from '../../src/statistics/descriptive/moments.js';
import { qn } from '../../src/statistics/descriptive/qn.js';
import {
  normalisedInterquartileRange,
  sampleQuantile,
} from '../../src/statistics/descriptive/sample-quantile.js';
import { scaledMedianAbsoluteDeviation } from '../../src/statistics/descriptive/scaled-median-absolute-deviation.js';
import {
  standardDeviation,
  sumOfSquaredDeviations,
  variance,
} from '../../src/statistics/descriptive/standard-deviation.js';
import { fitLine } from '../../src/statistics/regression/line.js';
import { andersonDarling } from '../../src/statistics/screening/anderson-darling.js';
import { bartlettTest } from '../../src/statistics/screening/bartlett.js';
import { cochranTest } from '../../src/statistics/screening/cochran.js';
import { dixonTest } from '../../src/statistics/screening/dixon.js';
import { doubleGrubbsTest } from '../../src/statistics/screening/double-grubbs.js';
import { generalisedEsd } from '../../src/statistics/screening/generalised-esd.js';
import { grubbsOppositeTest, grubbsTest } from '../../src/statistics/screening/grubbs.js';
import { leveneTest } from '../../src/statistics/screening/levene.js';
import { mandelConsistency } from '../../src/statistics/screening/mandel-consistency.js';
import { runsTest } from '../../src/statistics/screening/runs-test.js';
import { shapiroWilk } from '../../src/statistics/screening/shapiro-wilk.js';
import { trend } from '../../src/statistics/screening/trend.js';
import { vonNeumannTest } from '../../src/statistics/screening/von-neumann.js';

/** How figures follow the data: a `position` moves and stretches with them, the others only stretch, by a power. */
type Behaviour = 'position' | 0 | 1 | 2;

interface Statistic<Data> {
  readonly name: string;
  compute(data: Data): number[];
  readonly behaviour: readonly Behaviour[];
  /** The order of the values plays no part. */
  readonly anyOrder: boolean;
  /** Squares of the data are formed: they must stay within the range of numbers. */
  readonly moderate?: boolean;
}

type Values = readonly number[];

const samples: Statistic<Values>[] = [
  { name: 'mean', compute: (x) => [mean(x)], behaviour: ['position'], anyOrder: true },
  { name: 'median', compute: (x) => [median(x)], behaviour: ['position'], anyOrder: true },
  { name: 'quantile', compute: (x) => [sampleQuantile(x, 0.3)], behaviour: ['position'], anyOrder: true },
  { name: 'standard deviation', compute: (x) => [standardDeviation(x)], behaviour: [1], anyOrder: true },
  {
    name: 'variance and sum of squares',
    compute: (x) => [variance(x), sumOfSquaredDeviations(x)],
    behaviour: [2, 2],
    anyOrder: true,
  },
  {
    name: 'scaled median absolute deviation and interquartile range',
    compute: (x) => [scaledMedianAbsoluteDeviation(x), normalisedInterquartileRange(x)],
    behaviour: [1, 1],
    anyOrder: true,
  },
  {
    name: 'Algorithm A',
    compute: (x) => [algorithmA(x).location, algorithmA(x).scale],
    behaviour: ['position', 1],
    anyOrder: true,
  },
  {
    name: 'Huber proposal 2',
    compute: (x) => [huberProposal2(x).location, huberProposal2(x).scale],
    behaviour: ['position', 1],
    anyOrder: true,
  },
  { name: 'Qn', compute: (x) => [qn(x).location, qn(x).scale], behaviour: ['position', 1], anyOrder: true },
  {
    name: 'skewness and kurtosis',
    compute: (x) => [shape(x).skewness, shape(x).excessKurtosis],
    behaviour: [0, 0],
    anyOrder: true,
  },
  {
    name: 't test of a mean',
    compute: (x) => [oneSampleTTest(x).difference, oneSampleTTest(x).interval.low],
    behaviour: ['position', 'position'],
    anyOrder: true,
  },
  ...(['high', 'low', 'both'] as const).flatMap((side): Statistic<Values>[] => [
    {
      name: `Grubbs, ${side}`,
      compute: (x) => [grubbsTest(x, side).statistic, grubbsTest(x, side).pValue],
      behaviour: [0, 0],
      anyOrder: true,
    },
    {
      name: `Dixon, ${side}`,
      compute: (x) => [dixonTest(x, side).statistic],
      behaviour: [0],
      anyOrder: true,
    },
  ]),
  {
    name: 'Grubbs, two values',
    compute: (x) => [doubleGrubbsTest(x, 'high').statistic, doubleGrubbsTest(x, 'low').statistic],
    behaviour: [0, 0],
    anyOrder: true,
  },
  {
    name: 'Grubbs, opposite values',
    compute: (x) => [grubbsOppositeTest(x).statistic, grubbsOppositeTest(x).pValue],
    behaviour: [0, 0],
    anyOrder: true,
  },
  {
    name: 'generalised ESD',
    compute: (x) => generalisedEsd(x, 2).steps.map((step) => step.statistic),
    behaviour: [0, 0],
    anyOrder: true,
  },
  {
    name: 'Shapiro-Wilk',
    compute: (x) => [shapiroWilk(x).statistic, shapiroWilk(x).pValue],
    behaviour: [0, 0],
    anyOrder: true,
  },
  {
    name: 'Anderson-Darling',
    compute: (x) => [andersonDarling(x).statistic, andersonDarling(x).pValue],
    behaviour: [0, 0],
    anyOrder: true,
  },
  { name: 'autocorrelation', compute: (x) => [autocorrelation(x)], behaviour: [0], anyOrder: false },
  {
    name: 'runs test',
    compute: (x) => [runsTest(x).runs, runsTest(x).pFew],
    behaviour: [0, 0],
    anyOrder: false,
  },
  { name: 'von Neumann', compute: (x) => [vonNeumannTest(x).ratio], behaviour: [0], anyOrder: false },
  {
    name: 'trend',
    compute: (x) => [trend(x).slope, trend(x).standardUncertainty, trend(x).pValue],
    behaviour: [1, 1, 0],
    anyOrder: false,
  },
];

type Groups = readonly Values[];

const groupStatistics: Statistic<Groups>[] = [
  {
    name: 'Cochran',
    compute: (g) => [cochranTest(g).statistic, cochranTest(g).pValue],
    behaviour: [0, 0],
    anyOrder: true,
  },
  { name: 'Mandel', compute: (g) => [...mandelConsistency(g).k], behaviour: [0, 0, 0], anyOrder: false },
  {
    name: 'Levene',
    compute: (g) => [leveneTest(g).statistic, leveneTest(g, 'mean').statistic],
    behaviour: [0, 0],
    anyOrder: true,
  },
  {
    name: 'Bartlett',
    compute: (g) => [bartlettTest(g).statistic, bartlettTest(g).pValue],
    behaviour: [0, 0],
    anyOrder: true,
  },
  {
    name: 'one-way analysis of variance',
    compute: (g) => [oneWayAnalysis(g).grandMean, oneWayAnalysis(g).withinVariance, oneWayAnalysis(g).f],
    behaviour: ['position', 2, 0],
    anyOrder: true,
  },
  {
    name: 'paired t test',
    compute: ([a = [], b = []]) => [pairedTTest(a, b).difference, pairedTTest(a, b).t],
    behaviour: [1, 0],
    anyOrder: false,
  },
  {
    name: 'pooled t test',
    compute: ([a = [], b = []]) => [pooledTTest(a, b).difference, pooledTTest(a, b).pValue],
    behaviour: [1, 0],
    anyOrder: false,
  },
  {
    name: 'Welch t test',
    compute: ([a = [], b = []]) => [welchTTest(a, b).t, welchTTest(a, b).degreesOfFreedom],
    behaviour: [0, 0],
    anyOrder: false,
  },
  {
    name: 'F test',
    compute: ([a = [], b = []]) => [fTest(a, b).ratio, fTest(a, b).pValue],
    behaviour: [0, 0],
    anyOrder: false,
  },
  {
    name: 'line of the second group on the first',
    compute: ([a = [], b = []]) => [fitLine(a, b).slope, fitLine(a, b).residualStandardDeviation],
    behaviour: [0, 1],
    anyOrder: false,
    moderate: true,
  },
];

/** Values on a grid of 1/1024, so that shifts and factors that are powers of two round nothing; no two are equal. */
const grid = (length: number) =>
  fc
    .uniqueArray(fc.integer({ min: -200_000, max: 200_000 }), { minLength: length, maxLength: length })
    .map((values) => values.map((k) => k / 1024));
const sample = fc.integer({ min: 8, max: 20 }).chain(grid);
const threeGroups = fc.integer({ min: 3, max: 6 }).chain((n) => fc.tuple(grid(n), grid(n), grid(n)));
const shift = fc.integer({ min: -1_000_000, max: 1_000_000 });
const power = fc.integer({ min: -300, max: 300 });

function expectMoved(
  before: Values,
  after: Values,
  behaviour: readonly Behaviour[],
  offset: number,
  factor: number,
): void {
  behaviour.forEach((how, i) => {
    const expected = how === 'position' ? before[i]! * factor + offset : before[i]! * factor ** how;
    const scale = Math.max(Math.abs(expected), how === 'position' ? Math.abs(offset) : 0);
    expect(Math.abs(after[i]! - expected), `figure ${i + 1}`).toBeLessThanOrEqual(
      1e-9 * scale + 1e-13 * (how === 0 ? 1 : 0),
    );
  });
}

function battery<Data extends Values | Groups>(
  statistic: Statistic<Data>,
  data: fc.Arbitrary<Data>,
  mapValues: (data: Data, f: (x: number) => number) => Data,
  permute: (data: Data) => Data,
): void {
  const { compute, behaviour, anyOrder, moderate = false } = statistic;
  const runs = { numRuns: /Dixon|Grubbs, two/.test(statistic.name) ? 10 : 60 };

  it('follows a common shift', () => {
    fc.assert(
      fc.property(data, shift, (values, offset) => {
        const moved = compute(mapValues(values, (x) => x + offset));
        expectMoved(compute(values), moved, behaviour, offset, 1);
      }),
      runs,
    );
  });

  it('follows a common factor, far beyond the range in which squares can be formed', () => {
    fc.assert(
      fc.property(data, power, (values, exponent) => {
        const factor = 2 ** (behaviour.includes(2) || moderate ? exponent : exponent * 2);
        const stretched = compute(mapValues(values, (x) => x * factor));
        expectMoved(compute(values), stretched, behaviour, 0, factor);
      }),
      runs,
    );
  });

  if (anyOrder) {
    it('does not depend on the order', () => {
      fc.assert(
        fc.property(data, (values) =>
          expectMoved(compute(values), compute(permute(values)), behaviour, 0, 1),
        ),
        runs,
      );
    });
  }

  it('refuses nothing, too little, and what is no finite number', () => {
    const [values] = fc.sample(data, 1);
    for (const wrong of [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]) {
      let k = 0;
      const spoilt = mapValues(values!, (x) => (k++ === 2 ? wrong : x));
      expect(() => compute(spoilt)).toThrow(InputError);
    }
    expect(() => compute([] as unknown as Data)).toThrow(InputError);
    expect(() => compute(mapEmpty(values!))).toThrow(InputError);
  });
}

/** No values, or groups of no values. */
function mapEmpty<Data extends Values | Groups>(data: Data): Data {
  return (typeof data[0] === 'number' ? [] : data.map(() => [])) as unknown as Data;
}

const reversed = (values: Values): Values => [...values.slice(3), ...values.slice(0, 3)].reverse();

describe.each(samples)('$name', (statistic) => {
  battery<Values>(statistic, sample, (values, f) => values.map(f), reversed);
});

describe.each(groupStatistics)('$name', (statistic) => {
  battery<Groups>(
    statistic,
    threeGroups,
    (groups, f) => groups.map((group) => group.map(f)),
    (groups) => [...groups].reverse().map(reversed),
  );
});

describe('equivalence', () => {
  it('moves with its limits, and is refused where its limits are', () => {
    fc.assert(
      fc.property(threeGroups, shift, ([a, b], offset) => {
        const test = welchTTest(a, b);
        const moved = { ...test, difference: test.difference + offset };
        const found = equivalenceTest(test, -50, 80);
        expect(equivalenceTest(moved, -50 + offset, 80 + offset).pValue).toAgreeWithin(found.pValue, 1e-6);
        expect(found.equivalent).toBe(found.interval.low > -50 && found.interval.high < 80);
      }),
    );
    const test = welchTTest([1, 2, 3], [2, 3, 4]);
    expect(() => equivalenceTest(test, 1, 1)).toThrow(InputError);
    expect(() => equivalenceTest(test, Number.NaN, 1)).toThrow(InputError);
    expect(() => equivalenceTest(test, -1, 1, 0.5)).toThrow(InputError);
  });
});
