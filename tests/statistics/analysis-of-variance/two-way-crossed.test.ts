import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { twoWayAnalysis } from '../../../src/statistics/analysis-of-variance/two-way-crossed.js';
import { treatmentContrasts } from '../../support/contrasts.js';
import { exactLeastSquares } from '../../support/exact-least-squares.js';

const rows = { name: 'row', levels: [1, 1, 1, 1, 2, 2, 2, 2, 3, 3, 3, 3] };
const columns = { name: 'column', levels: [1, 1, 2, 2, 1, 1, 2, 2, 1, 1, 2, 2] };
const values = [10.2, 10.4, 11.1, 11.5, 9.8, 9.9, 10.4, 10.9, 10.6, 10.3, 11.9, 12.2];

describe('two-way crossed analysis of variance', () => {
  it('gives the textbook expected mean squares and tests of a balanced design', () => {
    const found = twoWayAnalysis(values, rows, columns);
    // Searle, Casella and McCulloch 1992, 4.3: random model of 3 × 2 cells of 2.
    expect(found.strata.map((s) => s.expectedMeanSquare.map((c) => Number(c.toFixed(9))))).toEqual([
      [4, 0, 2, 1],
      [0, 6, 2, 1],
      [0, 0, 2, 1],
      [0, 0, 0, 1],
    ]);
    expect(found.strata.map((s) => s.testedAgainst)).toEqual([
      'row × column',
      'row × column',
      'residual',
      null,
    ]);
    const fixed = twoWayAnalysis(values, rows, columns, 'fixed');
    expect(fixed.strata.map((s) => s.testedAgainst)).toEqual(['residual', 'residual', 'residual', null]);
    expect(fixed.strata[0]!.f).toAgreeWithin(
      found.strata[0]!.meanSquare / found.strata[3]!.meanSquare,
      1e-14,
    );
    expect(found.balanced).toBe(true);
  });

  it('agrees with exact least squares on a shifted, unbalanced design', () => {
    const keep = [0, 1, 2, 4, 5, 6, 7, 8, 10, 11];
    const y = keep.map((i) => 1e5 + values[i]!);
    const r = { name: 'row', levels: keep.map((i) => rows.levels[i]!) };
    const c = { name: 'column', levels: keep.map((i) => columns.levels[i]!) };
    const one = y.map(() => 1);
    const rss = (columnsOf: number[][]) => exactLeastSquares([one, ...columnsOf], y).residualSumOfSquares;
    const [rowColumns, columnColumns] = [treatmentContrasts(r.levels), treatmentContrasts(c.levels)];
    const cells = treatmentContrasts(r.levels.map((level, i) => `${level}/${c.levels[i]}`));
    const found = twoWayAnalysis(y, r, c).strata.map((s) => s.sumOfSquares);
    const exact = [
      rss([]) - rss(rowColumns),
      rss(rowColumns) - rss([...rowColumns, ...columnColumns]),
      rss([...rowColumns, ...columnColumns]) - rss(cells),
      rss(cells),
    ];
    exact.forEach((value, k) => {
      expect(found[k]).toAgreeWithin(value, 1e-11);
    });
  });

  it('leaves the interaction in the residual where cells hold one value', () => {
    const single = twoWayAnalysis(
      [1, 2, 4, 5.2, 3, 4.5],
      { name: 'plate', levels: [1, 1, 2, 2, 3, 3] },
      { name: 'sample', levels: [1, 2, 1, 2, 1, 2] },
    );
    expect(single.strata.map((s) => [s.name, s.degreesOfFreedom])).toEqual([
      ['plate', 2],
      ['sample', 1],
      ['residual', 2],
    ]);
  });

  it('finds no residual in a table that is a sum of rows and columns', () => {
    const additive = [0, 0.1, 0.7].flatMap((row) => [0.2, 0.3, 1.9, 2.4].map((column) => row + column));
    const levels = (of: (i: number) => number) => additive.map((_, i) => of(i));
    const found = twoWayAnalysis(
      additive,
      { name: 'row', levels: levels((i) => Math.floor(i / 4)) },
      { name: 'column', levels: levels((i) => i % 4) },
    );
    expect(found.strata[2]!.meanSquare).toBe(0);
    expect(found.strata[0]!.f).toBe(Number.POSITIVE_INFINITY);
  });

  it('refuses one level, unconnected factors and values that are not finite', () => {
    expect(() => twoWayAnalysis(values, { name: 'row', levels: values.map(() => 1) }, columns)).toThrow(
      'row: found 1 level(s)',
    );
    expect(() =>
      twoWayAnalysis(
        [1, 2, 3, 4],
        { name: 'row', levels: [1, 1, 2, 2] },
        { name: 'column', levels: [1, 1, 2, 2] },
      ),
    ).toThrow('no common row connects');
    expect(() =>
      twoWayAnalysis(
        [1, 2, Number.NaN, 4],
        { name: 'row', levels: [1, 1, 2, 2] },
        { name: 'c', levels: [1, 2, 1, 2] },
      ),
    ).toThrow(InputError);
  });
});
