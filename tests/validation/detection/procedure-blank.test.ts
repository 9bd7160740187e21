import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { procedureBlank } from '../../../src/validation/detection/procedure-blank.js';
import { criterion } from '../support.js';

const options = {
  analyte: 'Ca',
  level: '*',
  unit: 'mg/kg',
  criterion: criterion('at most', 10, 'mg/kg'),
  subtracted: 'over all runs',
} as const;

const blanks = (values: readonly number[], perRun = 4) =>
  values.map((value, i) => ({ key: `B-${i + 1}`, run: `R-${Math.floor(i / perRun)}`, value }));

describe('procedure blank', () => {
  it('judges the mean in the solid by its limits', () => {
    const values = [0.009, 0.01, 0.011, 0.01, 0.009, 0.011, 0.01, 0.01];
    const found = procedureBlank(blanks(values, 1), { ...options, solidPerUnit: 500 });
    expect(found.finding.estimate).toAgreeWithin(5, 1e-12);
    expect(found.finding.verdict).toBe('met');
    // s = √(4e-6/7), t(0.95; 7) = 1.894579.
    expect(found.finding.limits!.upperOneSided).toAgreeWithin(
      500 * (0.01 + (1.894578605 * Math.sqrt(4e-6 / 7)) / Math.sqrt(8)),
      1e-9,
    );
  });

  it('shows nothing with 5 blanks, whatever the values, and says how many are missing', () => {
    const found = procedureBlank(blanks([0, 0.001, 0, 0.001, 0]), { ...options, excluded: 7 });
    expect(found.finding.verdict).toBe('not shown');
    expect(found.finding.reason).toContain('Found 5 usable independent procedure blanks (7 excluded');
    expect(found.finding.reason).toContain('1 more');
  });

  it('shows nothing with blanks of fewer than 5 runs, and says so', () => {
    const values = [9, 10, 11, 10, 9, 11, 10, 10, 9, 10, 11, 10].map((v) => v / 1000);
    const found = procedureBlank(blanks(values), options);
    expect(found.finding.verdict).toBe('not shown');
    expect(found.finding.reason).toContain(
      '12 usable procedure blanks in 3 run(s); blanks of at least 5 runs',
    );
    // Run means 0.010, 0.010 and 0.010: their scatter, not that of twelve blanks, gives the limits.
    expect(found.finding.degreesOfFreedom).toBe(2);
  });

  it('judges the mean by the scatter of run means', () => {
    // Six runs of two: means 1, 3, 1, 3, 1, 3, s = √1.2, t(0.95; 5) = 2.015048.
    const found = procedureBlank(blanks([0, 2, 2, 4, 0, 2, 2, 4, 0, 2, 2, 4], 2), options);
    expect(found.finding.limits!.upperOneSided).toAgreeWithin(2 + 2.015048373 * Math.sqrt(1.2 / 6), 1e-9);
    expect(found.finding.degreesOfFreedom).toBe(5);
  });

  it('shows nothing with one blank and has no spread then', () => {
    const found = procedureBlank(blanks([0.1]), options);
    expect(found.spread).toBeNull();
    expect(found.finding.verdict).toBe('not shown');
  });

  it('counts two coefficients in one run where the values come from a line', () => {
    // Blanks of 1.6, 1.9, 2.1 and 2.4 g of flux brought to 2.5 g by a line: its variance there is s²·(1/4 + 0.5²/0.34).
    const share = 1 / 4 + 0.5 ** 2 / 0.34;
    const values = [0.01, 0.012, 0.011, 0.013];
    const found = procedureBlank(blanks(values), { ...options, line: { share } });
    // Mean 0.0115, sum of squares 5e-6 over 4 − 2 degrees of freedom; t(0.95; 2) = 2.919986.
    const s = Math.sqrt(5e-6 / 2);
    expect(found.spread).toMatchObject({ degreesOfFreedom: 2 });
    expect(found.spread!.standardDeviation).toAgreeWithin(s, 1e-12);
    expect(found.finding.limits!.upperOneSided).toAgreeWithin(
      0.0115 + 2.91998558 * s * Math.sqrt(share),
      1e-9,
    );
    expect(procedureBlank(blanks([1, 2]), { ...options, line: { share } }).spread).toBeNull();
  });

  it('takes the spread within a run where the routine subtracts run by run', () => {
    const values = [1, 1.1, 0.9, 1, 5, 5.1, 4.9, 5, 9, 9.1, 8.9, 9];
    const within = procedureBlank(blanks(values), { ...options, subtracted: 'run by run' });
    const total = procedureBlank(blanks(values), options);
    // Within each run the deviations are 0, 0.1, −0.1, 0: sum of squares 0.02 over 3 degrees of freedom.
    expect(within.spread!.standardDeviation).toAgreeWithin(Math.sqrt(0.02 / 3), 1e-12);
    expect(within.spread!.degreesOfFreedom).toBe(9);
    // Run means 1, 5, 9: variance 16, less 0.02/3/4 of the scatter within, plus that scatter.
    expect(total.spread!.standardDeviation).toAgreeWithin(Math.sqrt(16 + (0.02 / 3) * (3 / 4)), 1e-12);
    // Four blanks of a run are subtracted from one digestion of it.
    expect(within.atZero!.standardDeviation).toAgreeWithin(Math.sqrt((0.02 / 3) * (1 + 1 / 4)), 1e-12);
    expect(total.finding.notes.join(' ')).toContain('differ between runs');
  });

  it('refuses no blanks and values that are not finite', () => {
    expect(() => procedureBlank([], options)).toThrow(InputError);
    expect(() => procedureBlank(blanks([1, Number.NaN]), options)).toThrow(InputError);
  });
});
