import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { secondLine } from '../../../src/validation/selectivity/second-line.js';
import { believableCount, criterion, simulatedDays, valuesWith } from '../support.js';

const options = {
  analyte: 'Al',
  level: 'low',
  unit: 'mg/kg',
  criterion: criterion('within', 3, '%'),
  firstLineNm: 396.152,
  secondLineNm: 308.215,
};

const rows = (differences: readonly number[]) =>
  differences.map((d, i) => ({ key: `D-${i}`, day: `day ${i}`, first: 200, second: 200 * (1 + d) }));

describe('agreement of a second line', () => {
  it('is the mean relative difference of the same digestions with t limits', () => {
    const found = secondLine(rows([-0.01, 0, 0.01]), options);
    expect(found.finding.estimate!).toAgreeWithin(0, 1e-12);
    // t(0.95; 2) = 2.91999 of any table; s/√n = 1/√3 %.
    expect(found.finding.limits!.upperOneSided).toAgreeWithin(2.919985580355516 / Math.sqrt(3), 1e-9);
  });

  it('is met, not met or not shown by both one-sided limits', () => {
    const verdict = (mean: number, s: number) =>
      secondLine(rows(valuesWith(mean, s, 6)), options).finding.verdict;
    expect(verdict(0, 0.01)).toBe('met');
    expect(verdict(-0.12, 0.01)).toBe('not met');
    expect(verdict(0.03, 0.01)).toBe('not shown');
  });

  it('shows nothing from one day', () => {
    const found = secondLine(
      rows([0, 0.001]).map((row) => ({ ...row, day: 'one' })),
      options,
    );
    expect(found.finding.verdict).toBe('not shown');
  });

  it('declares a difference at the edge met in at most 5 % of studies', () => {
    const trials = 3000;
    let met = 0;
    for (let trial = 0; trial < trials; trial++) {
      const days = simulatedDays(61, trial, {
        days: 6,
        perDay: 1,
        mean: 0.03,
        dayStandardDeviation: 0.01,
        standardDeviation: 0,
      });
      if (secondLine(rows(days.flat()), options).finding.verdict === 'met') met++;
    }
    expect(met).toBeLessThanOrEqual(believableCount(0.05, trials));
  });

  it('refuses no digestion and a first result of 0', () => {
    expect(() => secondLine([], options)).toThrow(InputError);
    expect(() => secondLine([{ key: 'a', day: 'd', first: 0, second: 1 }], options)).toThrow(InputError);
  });
});
