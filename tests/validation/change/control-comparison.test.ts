import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { randomStream } from '../../../src/uncertainty/random-stream.js';
import { controlComparison } from '../../../src/validation/change/control-comparison.js';
import { believableCount, criterion, valuesWith } from '../support.js';

const options = {
  analyte: 'Al',
  level: 'control',
  unit: 'mg/kg',
  shiftCriterion: criterion('within', 1, '%'),
  precisionCriterion: criterion('at most', 2.5, '1'),
};
const rows = (values: readonly number[]) => values.map((value, i) => ({ key: `${i}`, value }));

describe('control results before and after a change', () => {
  it('shows an unchanged mean and precision with enough results', () => {
    const found = controlComparison(rows(valuesWith(200, 2, 30)), rows(valuesWith(200.2, 2, 30)), options);
    expect(found.shift.verdict).toBe('met');
    expect(found.shift.estimate).toAgreeWithin(0.1, 1e-9);
    expect(found.precision.verdict).toBe('met');
    expect(found.ratio).toAgreeWithin(1, 1e-12);
  });

  it('finds a shift and a loss of precision', () => {
    const found = controlComparison(rows(valuesWith(200, 2, 30)), rows(valuesWith(210, 12, 30)), options);
    expect(found.shift.verdict).toBe('not met');
    expect(found.precision.verdict).toBe('not met');
  });

  it('shows nothing with three results after the change, and says how many are needed', () => {
    const found = controlComparison(rows(valuesWith(200, 2, 30)), rows(valuesWith(200, 2, 3)), options);
    expect(found.shift.verdict).toBe('not shown');
    expect(found.precision.verdict).toBe('not shown');
    expect(found.shift.reason).toMatch(
      /Found 30 control results before and 3 after.*about \d+ results on each side/,
    );
  });

  // Miller and Miller, Statistics and Chemometrics for Analytical Chemistry, example 3.6.1 (remembered, recomputed):
  // s 3.31 and 1.51 with 8 results each, F = 4.8, one-sided 5 % point 3.787.
  it('uses the F distribution as in the example of two methods for oxygen demand', () => {
    const found = controlComparison(rows(valuesWith(72, 1.51, 8)), rows(valuesWith(72, 3.31, 8)), options);
    expect(found.ratio ** 2).toRoundTo('4.8');
    expect((found.ratio / found.ratioLimits.lowerOneSided) ** 2).toRoundTo('3.787');
  });

  it('declares a shift and a ratio at the edge met in at most 5 % of studies', () => {
    const trials = 3000;
    let shift = 0;
    let precision = 0;
    for (let trial = 0; trial < trials; trial++) {
      const stream = randomStream(71, 'control', trial);
      const draw = (n: number, mean: number, s: number) =>
        rows(Array.from({ length: n }, () => mean + s * stream.normal()));
      const before = draw(12, 200, 1);
      const absolute = { ...options, shiftCriterion: criterion('within', 2, 'mg/kg') };
      if (controlComparison(before, draw(12, 202, 1), absolute).shift.verdict === 'met') shift++;
      if (controlComparison(before, draw(12, 200, 2.5), options).precision.verdict === 'met') precision++;
    }
    expect(shift).toBeLessThanOrEqual(believableCount(0.05, trials));
    expect(precision).toBeLessThanOrEqual(believableCount(0.05, trials));
  });

  it('refuses one result on a side and results without any spread before', () => {
    expect(() => controlComparison(rows([1]), rows([1, 2]), options)).toThrow(InputError);
    expect(() => controlComparison(rows([1, 1]), rows([1, 2]), options)).toThrow(InputError);
  });
});

describe('results needed', () => {
  it('gives the power it promises where nothing has changed', () => {
    const absolute = { ...options, shiftCriterion: criterion('within', 1, 'mg/kg') };
    const side = rows(valuesWith(100, 1, 10));
    const n = controlComparison(side, side, absolute).resultsNeeded!;
    const trials = 2000;
    let met = 0;
    for (let trial = 0; trial < trials; trial++) {
      const stream = randomStream(72, 'power', trial);
      const draw = () => rows(Array.from({ length: n }, () => 100 + stream.normal()));
      if (controlComparison(draw(), draw(), absolute).shift.verdict === 'met') met++;
    }
    expect(met).toBeGreaterThanOrEqual(trials - believableCount(0.1, trials));
    expect(met).toBeLessThanOrEqual(believableCount(0.92, trials));
  });
});
