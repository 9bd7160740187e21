import { describe, expect, it } from 'vitest';
import { andersonDarling } from '../../../src/statistics/screening/anderson-darling.js';
import { bartlettTest } from '../../../src/statistics/screening/bartlett.js';
import { cochranTest } from '../../../src/statistics/screening/cochran.js';
import { dixonTest } from '../../../src/statistics/screening/dixon.js';
import { doubleGrubbsTest } from '../../../src/statistics/screening/double-grubbs.js';
import { grubbsOppositeTest, grubbsTest } from '../../../src/statistics/screening/grubbs.js';
import { leveneTest } from '../../../src/statistics/screening/levene.js';
import { runsTest } from '../../../src/statistics/screening/runs-test.js';
import { shapiroWilk } from '../../../src/statistics/screening/shapiro-wilk.js';
import { trend } from '../../../src/statistics/screening/trend.js';
import { vonNeumannTest } from '../../../src/statistics/screening/von-neumann.js';
import { randomStream } from '../../../src/uncertainty/random-stream.js';

/** Number of p values below 0.05 among those of many normal samples. */
function rejections(samples: number, n: number, pValue: (values: number[]) => number): number {
  const stream = randomStream(20260302, 'levels', n);
  let count = 0;
  for (let i = 0; i < samples; i++) {
    if (pValue(Array.from({ length: n }, () => stream.normal())) < 0.05) count++;
  }
  return count;
}

const split = (values: readonly number[]) => [values.slice(0, 6), values.slice(6, 12), values.slice(12)];

// 2000 samples at a level of 5 %: 100 expected; 99.9 % of exact tests give 69 to 133. Where each takes an integral, of 300
// samples 15 are expected and 4 to 29 allowed.
describe('tests of normal samples reject at their level', () => {
  it.each<[string, number, (values: number[]) => number]>([
    ['Grubbs, highest value', 8, (v) => grubbsTest(v, 'high').pValue],
    ['Grubbs, two-sided', 8, (v) => grubbsTest(v, 'both').pValue],
    ['Grubbs, opposite values', 8, (v) => grubbsOppositeTest(v).pValue],
    ['Cochran', 18, (v) => cochranTest(split(v)).pValue],
    ['Bartlett', 18, (v) => bartlettTest(split(v)).pValue],
    [
      'Levene about means of large groups',
      120,
      (v) => leveneTest([v.slice(0, 60), v.slice(60)], 'mean').pValue,
    ],
    ['Shapiro-Wilk', 12, (v) => shapiroWilk(v).pValue],
    ['Anderson-Darling', 20, (v) => andersonDarling(v).pValue],
    ['trend', 12, (v) => trend(v).pValue],
    ['von Neumann', 12, (v) => vonNeumannTest(v).pValue],
  ])('%s', (_, n, pValue) => {
    const found = rejections(2000, n, pValue);
    expect(found).toBeGreaterThanOrEqual(69);
    expect(found).toBeLessThanOrEqual(133);
  });

  it('Grubbs, two highest values', () => {
    const found = rejections(300, 8, (v) => doubleGrubbsTest(v, 'high').pValue);
    expect(found).toBeGreaterThanOrEqual(4);
    expect(found).toBeLessThanOrEqual(29);
  });

  it.each([
    ['r10', 6],
    ['r11', 9],
    ['r21', 12],
    ['r22', 15],
  ] as const)('Dixon %s', (ratio, n) => {
    const found = rejections(300, n, (v) => dixonTest(v, 'high', 0.05, ratio).pValue);
    expect(found).toBeGreaterThanOrEqual(4);
    expect(found).toBeLessThanOrEqual(29);
  });
});

describe('the runs test', () => {
  it('gives the probabilities that counting all orders gives', () => {
    const orders = (above: number, below: number): string[] => {
      if (above === 0 || below === 0) return ['a'.repeat(above) + 'b'.repeat(below)];
      return [
        ...orders(above - 1, below).map((rest) => `a${rest}`),
        ...orders(above, below - 1).map((rest) => `b${rest}`),
      ];
    };
    const all = orders(5, 4);
    expect(all).toHaveLength(126);
    const runsOf = (order: string) => order.replace(/a+|b+/g, 'x').length;
    for (const order of all) {
      const found = runsTest(
        [...order].map((side) => (side === 'a' ? 1 : -1)),
        0,
      );
      const runs = runsOf(order);
      expect(found.runs).toBe(runs);
      expect(found.pFew).toAgreeWithin(all.filter((o) => runsOf(o) <= runs).length / 126, 1e-13);
      expect(found.pMany).toAgreeWithin(all.filter((o) => runsOf(o) >= runs).length / 126, 1e-13);
    }
  });

  it('passes over values equal to the centre, and has nothing to test where all lie on one side', () => {
    const found = runsTest([1, 2, 3, 3, 3, 4, 5]);
    expect([found.above, found.below, found.runs]).toEqual([2, 2, 2]);
    expect(found.notes).toEqual(['3 value(s) equal to the centre passed over']);
    expect(runsTest([1, 2, 3], 0).pValue).toBe(1);
  });
});

describe('data without variation', () => {
  const equal = [4, 4, 4, 4, 4, 4, 4, 4];
  const groups = [
    [1, 1, 1],
    [2, 2, 2],
    [3, 3, 3],
  ];

  it('gives a p value of 1 and a note, never NaN', () => {
    const tests = [
      grubbsTest(equal),
      grubbsOppositeTest(equal),
      doubleGrubbsTest(equal, 'low'),
      dixonTest(equal),
      shapiroWilk(equal),
      andersonDarling(equal),
      cochranTest(groups),
      bartlettTest(groups),
      leveneTest(groups),
    ];
    for (const test of tests) {
      expect(test.pValue, test.method).toBe(1);
      expect(test.notes, test.method).toHaveLength(1);
      expect(Number.isFinite(test.statistic), test.method).toBe(true);
    }
  });

  it('of one group alone makes Bartlett infinite, and says so', () => {
    const found = bartlettTest([
      [1, 1, 1],
      [1, 2, 3],
    ]);
    expect([found.statistic, found.pValue]).toEqual([Number.POSITIVE_INFINITY, 0]);
    expect(found.notes).toHaveLength(1);
  });

  it('of the distances in groups of two is refused by Levene: both lie equally far from their centre', () => {
    const pairs = [
      [1, 2],
      [3, 5],
      [4, 4.1],
    ];
    for (const centre of ['median', 'mean'] as const)
      expect(() => leveneTest(pairs, centre)).toThrow('groups: found 2 results in each, expected at least 3');
    const mixed = leveneTest([...pairs, [1, 2, 4]]);
    expect(mixed.notes).toEqual([
      '3 group(s) of 2: their distances do not vary, so that F comes out too high',
    ]);
  });
});
