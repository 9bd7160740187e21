import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { type TruenessOptions, trueness } from '../../../src/validation/trueness/trueness.js';
import { believableCount, criterion, rowsOfDays, simulatedDays, valuesWith } from '../support.js';

const use = {
  minimumPortionG: 0.2,
  smallestPortionG: 0.2,
  certifiedBasis: 'dry',
  resultBasis: 'dry',
  expiry: '2030-06-30',
  lastUse: '2026-02-01',
};

function options(extra: Partial<TruenessOptions> = {}): TruenessOptions {
  return {
    analyte: 'Al',
    level: 'RM-1',
    unit: 'mg/kg',
    criterion: criterion('within', 5, '%'),
    certified: { material: 'RM-1', value: 100, standardUncertainty: 1, use },
    ...extra,
  };
}

const single = (values: readonly number[]) => rowsOfDays(values.map((value) => [value]));

describe('trueness against a reference material', () => {
  // Nordtest TR 537, bias from one CRM: certified 11.5 ± 0.5 (95 %), mean of 12 results 11.9, s = 2.2 % (remembered, recomputed).
  it('gives the one-CRM example of Nordtest TR 537', () => {
    const found = trueness(single(valuesWith(11.9, 0.022 * 11.9, 12)), {
      ...options(),
      certified: { material: 'CRM', value: 11.5, standardUncertainty: 0.5 / 1.96 },
    });
    expect((100 * found.bias) / 11.5).toRoundTo('3.48');
    const scatter = 2.2 / Math.sqrt(12);
    const reference = (100 * 0.5) / 1.96 / 11.5;
    expect(Math.hypot((100 * found.bias) / 11.5, scatter, reference)).toRoundTo('4.2');
    // The example takes s relative to the mean found; here all is relative to the certified value.
    expect((100 * found.standardUncertainty) / 11.5).toAgreeWithin(
      Math.hypot((scatter * 11.9) / 11.5, reference),
      1e-10,
    );
  });

  it('counts a day once and gives MS_day/(D·n) in a balanced design', () => {
    const days = [
      [98, 102],
      [99, 103],
      [101, 103],
      [97, 99],
      [100, 104],
    ];
    const found = trueness(rowsOfDays(days), options());
    // Day means 100, 101, 102, 98, 102: mean 100.6, sum of squares 11.2, MS_day = 2·11.2/4 = 5.6; 5.6/10 = 0.56.
    expect(found.bias).toAgreeWithin(0.6, 1e-12);
    expect(found.standardUncertainty ** 2).toAgreeWithin(0.56 + 1, 1e-12);
    expect(found.degreesOfFreedom).toAgreeWithin(1.56 ** 2 / (0.56 ** 2 / 4), 1e-12);
  });

  it('is met where |Δ| + t·u keeps the allowed bias and not met where even |Δ| − t·u exceeds it', () => {
    const verdict = (shift: number) =>
      trueness(single(valuesWith(100 + shift, 1, 6)), options()).finding.verdict;
    expect(verdict(0)).toBe('met');
    expect(verdict(-2)).toBe('met');
    expect(verdict(5)).toBe('not shown');
    expect(verdict(12)).toBe('not met');
    expect(verdict(-12)).toBe('not met');
  });

  it('keeps significance apart: a bias may be significant and allowed', () => {
    const certified = { material: 'RM-1', value: 100, standardUncertainty: 0.1, use };
    const found = trueness(single(valuesWith(102, 0.5, 10)), options({ certified }));
    expect(found.significance.significant).toBe(true);
    expect(found.finding.verdict).toBe('met');
  });

  it('shows nothing with a portion below the minimum, another basis or an ended certificate', () => {
    const rows = single(valuesWith(100, 1, 6));
    const verdict = (change: Partial<typeof use>) => {
      const certified = { material: 'RM-1', value: 100, standardUncertainty: 1, use: { ...use, ...change } };
      return trueness(rows, options({ certified })).finding;
    };
    expect(verdict({}).verdict).toBe('met');
    expect(verdict({ smallestPortionG: 0.19 }).verdict).toBe('not shown');
    expect(verdict({ smallestPortionG: 0.19 }).reason).toContain('minimum 0.2 g');
    expect(verdict({ certifiedBasis: 'as received' }).verdict).toBe('not shown');
    expect(verdict({ lastUse: '2030-07-01' }).verdict).toBe('not shown');
    expect(verdict({ lastUse: '2030-06-30' }).verdict).toBe('met');
  });

  it('shows nothing with results of fewer than 5 days', () => {
    const found = trueness(single(valuesWith(100, 0.1, 4)), options());
    expect(found.finding.verdict).toBe('not shown');
    expect(found.finding.reason).toContain('at least 5 days');
  });

  it('says when the reference is too uncertain for the criterion', () => {
    const certified = { material: 'RM-1', value: 100, standardUncertainty: 4, use };
    const found = trueness(single(valuesWith(100, 0.5, 10)), options({ certified }));
    expect(found.finding.verdict).toBe('not shown');
    expect(found.finding.reason).toContain('uncertainty of the reference');
  });

  it('names the rows and the certified value it rests on', () => {
    const { rows } = trueness(single(valuesWith(100, 1, 6)), options()).finding;
    expect(rows).toEqual([
      { table: 'digestions', keys: ['D-1-1', 'D-2-1', 'D-3-1', 'D-4-1', 'D-5-1', 'D-6-1'] },
      { table: 'references', keys: ['RM-1'] },
    ]);
  });

  it('declares a bias at the allowed edge met in at most 5 % of studies, the certified value redrawn each time', () => {
    const trials = 4000;
    let met = 0;
    for (let trial = 0; trial < trials; trial++) {
      const [certificate] = simulatedDays(21, trial, {
        days: 1,
        perDay: 1,
        mean: 0,
        dayStandardDeviation: 1,
        standardDeviation: 0,
      });
      const days = simulatedDays(22, trial, {
        days: 6,
        perDay: 2,
        mean: 105,
        dayStandardDeviation: 1,
        standardDeviation: 1,
      });
      const found = trueness(
        rowsOfDays(days),
        options({
          criterion: criterion('within', 5, 'mg/kg'),
          certified: { material: 'RM-1', value: 100 + certificate![0]!, standardUncertainty: 1, use },
        }),
      );
      if (found.finding.verdict === 'met') met++;
    }
    expect(met).toBeLessThanOrEqual(believableCount(0.05, trials));
  });

  it('refuses no results, a certified value of 0 and a date in another form', () => {
    expect(() => trueness([], options())).toThrow(InputError);
    const zero = { material: 'RM-1', value: 0, standardUncertainty: 1 };
    expect(() => trueness(single([1, 2]), options({ certified: zero }))).toThrow(InputError);
    const dated = {
      material: 'RM-1',
      value: 1,
      standardUncertainty: 1,
      use: { ...use, expiry: '30.6.2030' },
    };
    expect(() => trueness(single([1, 2]), options({ certified: dated }))).toThrow(InputError);
  });
});
