import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { nestedAnalysis } from '../../../src/statistics/analysis-of-variance/nested.js';
import { oneWayAnalysis } from '../../../src/statistics/analysis-of-variance/one-way.js';
import { type PublishedExample, readReference } from '../../support/reference-sets.js';

describe('nested analysis of variance', () => {
  // Davies and Goldsmith 1972, section 6.5: figures remembered and recomputed.
  it('gives the components of the paste-strength example', () => {
    const { inputs, published } =
      readReference<PublishedExample<{ strength: number[][][] }, Record<string, string>>>(
        'statistics/davies-pastes',
      );
    const rows = inputs.strength.flatMap((casks, batch) =>
      casks.flatMap((tests, cask) => tests.map((value) => ({ batch, cask, value }))),
    );
    const found = nestedAnalysis(
      rows.map((row) => row.value),
      [
        { name: 'batch', levels: rows.map((row) => row.batch) },
        { name: 'cask', levels: rows.map((row) => row.cask) },
      ],
    );
    const [batch, cask, assay] = found.strata;
    expect(found.mean).toRoundTo(published.mean!);
    expect(batch!.variance).toRoundTo(published.var_batch!);
    expect(cask!.variance).toRoundTo(published.var_cask!);
    expect(assay!.variance).toRoundTo(published.var_assay!);
    expect(Math.sqrt(batch!.variance)).toRoundTo(published.sd_batch!);
    expect(Math.sqrt(cask!.variance)).toRoundTo(published.sd_cask!);
    expect(Math.sqrt(assay!.variance)).toRoundTo(published.sd_assay!);
    expect(found.balanced).toBe(true);
    expect(batch!.testedAgainst).toBe('cask');
  });

  it('is the one-way analysis where one factor is nested in nothing', () => {
    const groups = [
      [10.1, 10.3, 9.9],
      [9.8, 10],
      [10.4, 10.2, 10.6, 10.1],
    ];
    const levels = groups.flatMap((g, k) => g.map(() => `day ${k}`));
    const nested = nestedAnalysis(groups.flat(), [{ name: 'day', levels }]);
    const oneWay = oneWayAnalysis(groups);
    expect(nested.strata[0]!.sumOfSquares).toAgreeWithin(oneWay.sumOfSquaresBetween, 1e-15);
    expect(nested.strata[0]!.expectedMeanSquare[0]).toAgreeWithin(oneWay.effectiveGroupSize, 1e-14);
    expect(nested.strata[0]!.varianceUnconstrained).toAgreeWithin(oneWay.betweenVarianceUnconstrained, 1e-12);
    expect(nested.balanced).toBe(false);
    expect(nested.notes.join(' ')).toContain('unbalanced');
  });

  it('goes to three depths, and its expected mean squares are those of the balanced textbook design', () => {
    const rows = Array.from({ length: 48 }, (_, i) => i);
    const found = nestedAnalysis(
      rows.map((i) => Math.sin(i * 1.7) + Math.floor(i / 16)),
      [
        { name: 'laboratory', levels: rows.map((i) => Math.floor(i / 16)) },
        { name: 'day', levels: rows.map((i) => Math.floor(i / 8)) },
        { name: 'digestion', levels: rows.map((i) => Math.floor(i / 2)) },
      ],
    );
    expect(found.strata.map((s) => s.degreesOfFreedom)).toEqual([2, 3, 18, 24]);
    // Searle, Casella and McCulloch 1992, 5.3: n·c·b, n·c, n, 1 for classes of 2 days, 4 digestions, 2 readings.
    expect(found.strata.map((s) => s.expectedMeanSquare.map((c) => Number(c.toFixed(12))))).toEqual([
      [16, 8, 2, 1],
      [0, 8, 2, 1],
      [0, 0, 2, 1],
      [0, 0, 0, 1],
    ]);
  });

  it('adds its sums of squares up to the total, whatever the sizes of the classes', () => {
    const row = fc.tuple(
      fc.integer({ min: 0, max: 3 }),
      fc.integer({ min: 0, max: 2 }),
      fc.integer({ min: -99, max: 99 }),
    );
    fc.assert(
      fc.property(fc.array(row, { minLength: 12, maxLength: 40 }), (rows) => {
        const values = rows.map(([, , v]) => 1e6 + v / 8);
        const factors = [
          { name: 'day', levels: rows.map(([day]) => day) },
          { name: 'run', levels: rows.map(([, run]) => run) },
        ];
        const runs = new Set(rows.map(([day, run]) => `${day}/${run}`)).size;
        const days = new Set(rows.map(([day]) => day)).size;
        fc.pre(days > 1 && runs > days && runs < rows.length);
        const { strata, mean } = nestedAnalysis(values, factors);
        const total = values.reduce((sum, v) => sum + (v - mean) ** 2, 0);
        const parts = strata.reduce((sum, s) => sum + s.sumOfSquares, 0);
        expect(Math.abs(parts - total)).toBeLessThanOrEqual(1e-8 * (total + 1e-3));
      }),
    );
  });

  it('refuses factors without degrees of freedom and values that are not finite', () => {
    const factor = { name: 'day', levels: [1, 1, 2, 2] };
    expect(() => nestedAnalysis([1, 2, 3, 4], [])).toThrow('factors: found none');
    expect(() => nestedAnalysis([1, 2, 3, 4], [{ name: 'day', levels: [1, 1, 1, 1] }])).toThrow(
      'day: found no degrees',
    );
    expect(() => nestedAnalysis([1, 2, 3, 4], [factor, { name: 'run', levels: [1, 1, 1, 1] }])).toThrow(
      'run: found no',
    );
    expect(() => nestedAnalysis([1, 2, 3, 4], [factor, { name: 'run', levels: [1, 2, 1, 2] }])).toThrow(
      'residual: found no',
    );
    expect(() => nestedAnalysis([1, 2, Number.NaN, 4], [factor])).toThrow(InputError);
  });
});
