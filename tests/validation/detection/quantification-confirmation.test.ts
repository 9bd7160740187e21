import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { chiSquaredQuantile } from '../../../src/statistics/distributions/chi-squared.js';
import { quantificationConfirmation } from '../../../src/validation/detection/quantification-confirmation.js';
import { believableCount, rowsOfDays, simulatedDays } from '../support.js';

const options = { material: 'ZL-1', unit: 'mg/kg', limit: 10, targetRelative: 0.4, digestionsPerResult: 3 };
const rows = rowsOfDays([
  [9, 11],
  [10, 12],
  [8, 10],
  [9, 11],
  [10, 12],
  [8, 10],
]);

describe('confirmation of a limit of quantification', () => {
  it('confirms it where the upper limit of the spread over days keeps target × mean; single digestions where a day has too few', () => {
    const found = quantificationConfirmation(rows, options);
    // Day means 10, 11, 9, 10, 11, 9: variance 4/5. MS within 2 over 6 degrees of freedom, half of it above 4/5: nothing between days.
    expect(found.digestionsPerValue).toBe(1);
    expect(found.standardDeviation).toAgreeWithin(Math.SQRT2, 1e-12);
    // Graybill–Wang: MS between 1.6 over 5, each mean square with a coefficient of a half.
    const [h1, h2] = [5 / chiSquaredQuantile(0.05, 5) - 1, 6 / chiSquaredQuantile(0.05, 6) - 1];
    expect(found.limits.upperOneSided).toAgreeWithin(
      Math.sqrt(0.8 + 1 + Math.hypot(h1 * 0.8, h2 * 1)),
      1e-10,
    );
    expect(found.outcome).toBe('confirmed');
    expect(found.sentence).toContain('is confirmed by 12 digestions of ZL-1 on 6 day(s) at 10 mg/kg');
  });

  it('contradicts it where even the lower limit fails, and leaves it open between', () => {
    expect(quantificationConfirmation(rows, { ...options, targetRelative: 0.06 }).outcome).toBe(
      'contradicted',
    );
    const open = quantificationConfirmation(rows, { ...options, targetRelative: 0.15 });
    expect(open.outcome).toBe('open');
    expect(open.notShown).toBeNull();
    expect(open.sentence).toContain('More digestions');
  });

  it('judges results as they are reported where every day has digestions enough', () => {
    const days = [9, 11, 9, 11, 9, 11].map((mean) => [mean - 0.1, mean + 0.1]);
    const found = quantificationConfirmation(rowsOfDays(days), { ...options, digestionsPerResult: 2 });
    // Day means 9 and 11 in turn: variance 6/5, the whole of that of a mean of two digestions.
    expect(found.digestionsPerValue).toBe(2);
    expect(found.standardDeviation).toAgreeWithin(Math.sqrt(1.2), 1e-12);
    expect(found.degreesOfFreedom).toAgreeWithin(5, 1e-12);
    expect(found.limits.upperOneSided).toAgreeWithin(Math.sqrt(6 / chiSquaredQuantile(0.05, 5)), 1e-10);
    expect(found.allowed).toAgreeWithin(4, 1e-12);
    expect(found.sentence).toContain('the standard deviation of means of 2 digestions is 1.1 mg/kg');
  });

  it('leaves it open on fewer than 5 days and where values do not scatter, and says why', () => {
    const one = quantificationConfirmation(rowsOfDays([[9.9, 10, 10.1, 10, 9.9, 10.1, 10, 10]]), options);
    expect(one.outcome).toBe('open');
    expect(one.sentence).toContain('left open whatever the values: at least 5 days are needed');
    const equal = quantificationConfirmation(rowsOfDays([10, 10, 10, 10, 10].map((v) => [v])), options);
    expect(equal.outcome).toBe('open');
    expect(equal.sentence).toContain('do not scatter at all');
  });

  it('confirms a spread that is exactly the one allowed in at most 5 % of studies', () => {
    const trials = 1500;
    for (const [days, perDay, ratio] of [
      [6, 1, 2],
      [6, 2, 0],
      [6, 2, 2],
      [10, 2, 1],
    ] as const) {
      let confirmed = 0;
      for (let trial = 0; trial < trials; trial++) {
        const design = { days, perDay, mean: 100, dayStandardDeviation: ratio, standardDeviation: 1 };
        const found = quantificationConfirmation(rowsOfDays(simulatedDays(33, trial, design)), {
          ...{ ...options, limit: 100, digestionsPerResult: 1 },
          targetRelative: Math.hypot(1, ratio) / 100,
        });
        if (found.outcome === 'confirmed') confirmed++;
      }
      expect(confirmed).toBeLessThanOrEqual(believableCount(0.05, trials));
    }
  });

  it('refuses a single digestion and a limit of 0', () => {
    expect(() => quantificationConfirmation(rows.slice(0, 1), options)).toThrow(InputError);
    expect(() => quantificationConfirmation(rows, { ...options, limit: 0 })).toThrow(InputError);
  });
});
