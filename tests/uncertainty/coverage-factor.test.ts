import { describe, expect, it } from 'vitest';
import { coverageFactor } from '../../src/uncertainty/coverage-factor.js';
import { reference } from '../support/reference.js';

// JCGM 100:2008, Table G.2 (remembered and recomputed).
const table = reference<{
  columns: number[];
  rows: { degreesOfFreedom: number | 'infinite'; printed: string[] }[];
  exceptions: { degreesOfFreedom: number; column: number; computed: number; why: string }[];
}>('uncertainty/gum-g2-coverage-factors');

describe('coverageFactor', () => {
  it.each(table.rows)('gives the table row for $degreesOfFreedom degrees of freedom', (row) => {
    const nu = row.degreesOfFreedom === 'infinite' ? Infinity : row.degreesOfFreedom;
    row.printed.forEach((printed, i) => {
      const found = coverageFactor(nu, table.columns[i]! / 100);
      const exception = table.exceptions.find(
        (e) => e.degreesOfFreedom === nu && e.column === table.columns[i],
      );
      if (exception === undefined) expect(found).toRoundTo(printed);
      else expect(found).toAgreeWithin(exception.computed, 1e-12);
    });
  });

  it('takes degrees of freedom that are no whole number', () => {
    const found = coverageFactor(16.7, 0.99);
    expect(found).toBeLessThan(coverageFactor(16, 0.99));
    expect(found).toBeGreaterThan(coverageFactor(17, 0.99));
  });

  it.each([
    [0, 0.95, 'degrees of freedom: found 0'],
    [Number.NaN, 0.95, 'degrees of freedom: found NaN'],
    [5, 1, 'coverage probability: found 1'],
    [5, 95, 'coverage probability: found 95'],
  ])('refuses %d degrees of freedom with probability %d', (nu, p, message) => {
    expect(() => coverageFactor(nu, p)).toThrow(message);
  });
});
