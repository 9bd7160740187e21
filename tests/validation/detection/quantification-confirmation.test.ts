import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { chiSquaredQuantile } from '../../../src/statistics/distributions/chi-squared.js';
import { quantificationConfirmation } from '../../../src/validation/detection/quantification-confirmation.js';

const rows = [9, 10, 11, 9, 10, 11, 9, 11].map((value, i) => ({ key: `D-${i}`, day: `${i % 4}`, value }));
const options = { material: 'ZL-1', unit: 'mg/kg', limit: 10, targetRelative: 0.3, digestionsPerResult: 3 };

describe('confirmation of a limit of quantification', () => {
  it('confirms it where the upper limit of the spread keeps target × mean; single digestions where a day has too few', () => {
    const found = quantificationConfirmation(rows, options);
    // Exact: sum of squares about 10 is 6, seven degrees of freedom.
    expect(found.standardDeviation).toAgreeWithin(Math.sqrt(6 / 7), 1e-12);
    expect(found.limits.upperOneSided).toAgreeWithin(Math.sqrt(6 / chiSquaredQuantile(0.05, 7)), 1e-10);
    expect(found.outcome).toBe('confirmed');
    expect(found.days).toBe(4);
    expect(found.sentence).toContain('is confirmed by 8 digestions of ZL-1 on 4 day(s) at 10 mg/kg');
  });

  it('contradicts it where even the lower limit fails, and leaves it open between', () => {
    expect(quantificationConfirmation(rows, { ...options, targetRelative: 0.06 }).outcome).toBe(
      'contradicted',
    );
    const open = quantificationConfirmation(rows, { ...options, targetRelative: 0.1 });
    expect(open.outcome).toBe('open');
    expect(open.sentence).toContain('More digestions');
  });

  it('judges results as they are reported where every day has digestions enough', () => {
    const found = quantificationConfirmation(rows, { ...options, digestionsPerResult: 2 });
    // Days 0 to 3 hold (9, 10), (10, 11), (11, 9), (9, 11): means 9.5, 10.5, 10, 10; sum of squares about 10 is 0.5.
    expect(found.digestionsPerValue).toBe(2);
    expect(found.standardDeviation).toAgreeWithin(Math.sqrt(0.5 / 3), 1e-12);
    expect(found.degreesOfFreedom).toBe(3);
    expect(found.allowed).toAgreeWithin(3, 1e-12);
    expect(found.sentence).toContain('the standard deviation of means of 2 digestions is 0.41 mg/kg');
  });

  it('refuses a single digestion and a limit of 0', () => {
    expect(() => quantificationConfirmation(rows.slice(0, 1), options)).toThrow(InputError);
    expect(() => quantificationConfirmation(rows, { ...options, limit: 0 })).toThrow(InputError);
  });
});
