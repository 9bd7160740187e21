import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { oneWayAnalysis } from '../../../src/statistics/analysis-of-variance/one-way.js';
import { fQuantile } from '../../../src/statistics/distributions/f.js';
import { studentTQuantile } from '../../../src/statistics/distributions/student-t.js';
import { cochranTest } from '../../../src/statistics/screening/cochran.js';
import { exactOneWay } from '../../support/exact-one-way.js';
import { type PublishedExample, readReference } from '../../support/reference-sets.js';

describe('one-way analysis of variance', () => {
  // Miller and Miller, section 3.9: figures remembered and recomputed.
  it('gives the table of the storage-conditions example', () => {
    const { inputs, published } = readReference<
      PublishedExample<{ groups: number[][] }, Record<string, string> & { means: string[] }>
    >('statistics/miller-storage-conditions');
    const found = oneWayAnalysis(inputs.groups);
    published.means.forEach((mean, i) => {
      expect(found.groupMeans[i]).toRoundTo(mean);
    });
    expect(found.meanSquareWithin).toRoundTo(published.MS_within!);
    expect(found.meanSquareBetween).toRoundTo(published.MS_between!);
    expect(found.sumOfSquaresBetween).toRoundTo(published.SS_between!);
    expect(found.sumOfSquaresWithin).toRoundTo(published.SS_within!);
    expect(found.f).toRoundTo(published.F!);
    expect(fQuantile(0.95, 3, 8)).toRoundTo(published.F_crit!);
    // Least significant difference of two means of three: t·√(2·MS/3).
    expect(studentTQuantile(0.975, 8) * Math.sqrt((2 * found.meanSquareWithin) / 3)).toRoundTo(
      published.LSD!,
    );
  });

  // ISO 5725-2:1994, Annex B, example 1: figures remembered and recomputed.
  it('gives repeatability and reproducibility of sulfur in coal with unequal replicates', () => {
    const { inputs, published } = readReference<
      PublishedExample<{ lab_level_values: number[][][] }, Record<string, Record<string, string>>>
    >('statistics/iso5725-sulfur-in-coal');
    for (let level = 0; level < 4; level++) {
      const found = oneWayAnalysis(inputs.lab_level_values.map((laboratory) => laboratory[level]!));
      const printed = published[`level${level + 1}`]!;
      expect(found.groups).toBe(Number(printed.p));
      expect(found.grandMean).toRoundTo(printed.m!);
      expect(Math.sqrt(found.withinVariance)).toRoundTo(printed.s_r!);
      expect(Math.sqrt(found.withinVariance + found.betweenVariance)).toRoundTo(printed.s_R!);
    }
  });

  // ISO 5725-2:1994, Annex B, example 2: figures remembered and recomputed. At least one cell of levels 3 and 4 was remembered
  // wrongly: four of their printed figures do not follow from the cells, so exact values stand for them.
  it('gives repeatability and reproducibility of the softening point of pitch with missing data', () => {
    const { inputs, published, notReproduced } = readReference<
      PublishedExample<{ lab_level_values: number[][][] }, Record<string, Record<string, string>>>
    >('statistics/iso5725-softening-point-of-pitch');
    const cellsOf = (level: number) =>
      inputs.lab_level_values.map((laboratory) => laboratory[level]!).filter((cell) => cell.length > 1);
    const figuresOf = (cells: number[][]) => {
      const found = oneWayAnalysis(cells);
      const s_r = Math.sqrt(found.withinVariance);
      const s_R = Math.sqrt(found.withinVariance + found.betweenVariance);
      return { p: found.groups, m: found.grandMean, s_r, s_R, cochran_C: cochranTest(cells).statistic };
    };
    for (const [level, printed] of Object.entries(published)) {
      const found: Record<string, number> = figuresOf(cellsOf(Number(level.slice(-1)) - 1));
      expect(Object.keys(printed)).toEqual(Object.keys(found));
      for (const [name, figure] of Object.entries(printed)) expect(found[name], name).toRoundTo(figure);
    }
    const left = Object.entries(notReproduced!);
    expect(left).toHaveLength(4);
    for (const [figure, { printed, exact }] of left) {
      const [level, name] = figure.split(' ');
      const cells = cellsOf(Number(level!.slice(-1)) - 1);
      const found: Record<string, number> = figuresOf(cells);
      expect(found[name!], figure).toAgreeWithin(exact, 1e-11);
      expect(found[name!], figure).not.toRoundTo(printed);
      // By hand: s_r² is half the mean square of the differences, s_L² the variance of the laboratory means less s_r²/2.
      const means = cells.map(([a, b]) => (a! + b!) / 2);
      const m = means.reduce((sum, v) => sum + v, 0) / 16;
      const r2 = cells.reduce((sum, [a, b]) => sum + (a! - b!) ** 2, 0) / 32;
      const l2 = means.reduce((sum, v) => sum + (v - m) ** 2, 0) / 15 - r2 / 2;
      const byHand: Record<string, number> = { m, s_r: Math.sqrt(r2), s_R: Math.sqrt(r2 + l2) };
      expect(byHand[name!], figure).toAgreeWithin(exact, 1e-11);
    }
  });

  // Davies and Goldsmith 1972, section 6.4: figures remembered and recomputed.
  it('gives the components of the dyestuff example', () => {
    const { inputs, published } = readReference<
      PublishedExample<{ yield_g: number[][] }, Record<string, string>>
    >('statistics/davies-dyestuff');
    const found = oneWayAnalysis(inputs.yield_g);
    expect(found.grandMean).toRoundTo(published.mean!);
    expect(found.meanSquareBetween).toRoundTo(published.MS_between!);
    expect(found.meanSquareWithin).toRoundTo(published.MS_within!);
    expect(found.betweenVariance).toRoundTo(published.var_between!);
    expect(Math.sqrt(found.withinVariance)).toRoundTo(published.sd_within!);
  });

  // JCGM 100:2008 H.5: figures remembered and recomputed. Each day is rebuilt as five values with the printed mean and
  // standard deviation; the printed F, 2.25, is of the rounded 57 uV and 85 uV, and these means give 2.2615.
  it('gives the day-to-day component of the Zener standard', () => {
    const { inputs, published } = readReference<
      PublishedExample<{ day_mean_V: number[]; day_s_uV: number[] }, Record<string, string>>
    >('statistics/gum-h5-zener-analysis-of-variance');
    const days = inputs.day_mean_V.map((mean, j) =>
      [-1, -1, 0, 1, 1].map((z) => (mean - 10) * 1e6 + z * inputs.day_s_uV[j]!),
    );
    const found = oneWayAnalysis(days);
    expect(found.grandMean * 1e-6 + 10).toRoundTo(published.grand_mean_V!);
    expect(Math.sqrt(found.meanSquareBetween)).toRoundTo(published.sa_uV!);
    expect(Math.sqrt(found.meanSquareWithin)).toRoundTo(published.sb_uV!);
    expect(found.degreesOfFreedomBetween).toBe(Number(published.nu_a));
    expect(found.degreesOfFreedomWithin).toBe(Number(published.nu_b));
    expect(Math.sqrt(found.betweenVariance)).toRoundTo(published.s_between_uV!);
    expect(Math.sqrt(found.meanSquareBetween / 50)).toRoundTo(published.u_mean_between_uV!);
    // The printed F is that of the rounded 57 uV and 85 uV; the means as printed give 2.2615.
    expect((5 * 57 ** 2) / 85 ** 2).toRoundTo(published.F!);
    expect(found.f).toAgreeWithin(2.26151926999, 1e-9);
    expect(fQuantile(0.95, 9, 40)).toRoundTo(published.F95!);
    expect(fQuantile(0.975, 9, 40)).toRoundTo(published['F97.5']!);
    // If nothing varied between days, all 50 values would share one spread.
    const pooled = (found.sumOfSquaresBetween + found.sumOfSquaresWithin) / 49;
    expect(Math.sqrt(pooled / 50)).toRoundTo(published.u_mean_no_between_uV!);
  });

  it('holds a negative component at 0 and says so', () => {
    const found = oneWayAnalysis([
      [1, 3],
      [3, 1],
      [2, 2.5],
    ]);
    expect(found.betweenVariance).toBe(0);
    expect(found.betweenAtBoundary).toBe(true);
    expect(found.betweenVarianceUnconstrained).toBeLessThan(0);
    expect(found.notes.join(' ')).toContain('held at 0');
  });

  it('answers for groups without spread and for values that are all equal', () => {
    const apart = oneWayAnalysis([
      [1, 1],
      [2, 2],
    ]);
    expect([apart.f, apart.pValue]).toEqual([Number.POSITIVE_INFINITY, 0]);
    const equal = oneWayAnalysis([
      [2, 2],
      [2, 2],
    ]);
    expect([equal.f, equal.pValue, equal.rSquared]).toEqual([0, 1, 0]);
    expect(equal.notes.join(' ')).toContain('no variation');
    // 0.1 is no binary64 number: sums of it round, and the rounding is not a variance.
    const tenth = [0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1];
    expect(oneWayAnalysis([tenth, tenth.slice(2)]).f).toBe(0);
    expect(oneWayAnalysis([tenth, [0.3, 0.3, 0.3]]).f).toBe(Number.POSITIVE_INFINITY);
  });

  it('refuses too few groups, empty groups, single values and values that are not finite', () => {
    expect(() => oneWayAnalysis([[1, 2]])).toThrow(new InputError('groups: found 1, expected at least 2'));
    expect(() => oneWayAnalysis([[1, 2], []])).toThrow('group 2: found 0 value(s), expected at least 1');
    expect(() => oneWayAnalysis([[1], [2]])).toThrow(InputError);
    expect(() =>
      oneWayAnalysis([
        [1, 2],
        [Number.NaN, 1],
      ]),
    ).toThrow('position 1');
  });

  it('agrees with exact arithmetic on hostile data: large offset, tiny spread', () => {
    const value = fc.integer({ min: -50, max: 50 });
    const group = fc.array(value, { minLength: 2, maxLength: 6 });
    fc.assert(
      fc.property(
        fc.array(group, { minLength: 2, maxLength: 6 }),
        fc.integer({ min: 0, max: 15 }),
        (tenths, digits) => {
          const offset = 10 ** digits;
          const groups = tenths.map((t) => t.map((k) => offset + k / 10));
          const exact = exactOneWay(groups);
          const found = oneWayAnalysis(groups);
          expect(found.sumOfSquaresBetween).toAgreeWithin(exact.between, 1e-14);
          expect(found.sumOfSquaresWithin).toAgreeWithin(exact.within, 1e-14);
          expect(found.grandMean).toAgreeWithin(exact.grandMean, 1e-15);
        },
      ),
      { numRuns: 200 },
    );
  });

  it('shifts, scales and permutes as its definition does', () => {
    const groups = [
      [10.1, 10.3, 9.9],
      [9.8, 10.0],
      [10.4, 10.2, 10.6, 10.1],
    ];
    const base = oneWayAnalysis(groups);
    const moved = oneWayAnalysis(groups.map((g) => g.map((v) => 4 * v + 64)).reverse());
    expect(moved.f).toAgreeWithin(base.f, 1e-13);
    expect(moved.betweenVariance).toAgreeWithin(16 * base.betweenVariance, 1e-12);
    expect(moved.grandMean).toAgreeWithin(4 * base.grandMean + 64, 1e-15);
  });
});
