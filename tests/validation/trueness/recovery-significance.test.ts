import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { recoverySignificance } from '../../../src/validation/trueness/recovery-significance.js';

describe('significance of a recovery', () => {
  it('is that of the pesticides in bread', () => {
    // QUAM:2012, example A4 (remembered and recomputed): mean recovery 90 %, s = 28 %, n = 42; u = 0.0432, t = 2.31, critical value 2.021.
    const u = 0.28 / Math.sqrt(42);
    expect(u).toRoundTo('0.0432');
    const found = recoverySignificance(0.9, u, 41);
    expect(found.t).toRoundTo('2.31');
    // The guide prints the value of 40 degrees of freedom, the next below 41 in its table.
    expect(recoverySignificance(0.9, u, 40).criticalValue).toRoundTo('2.021');
    expect(found.criticalValue).toRoundTo('2.0195');
    expect(found.significant).toBe(true);
    expect(found.pValue).toBeLessThan(0.05);
  });

  it('is not given for 97 % of the same scatter, on either side of 1', () => {
    for (const recovery of [0.97, 1.03]) {
      const found = recoverySignificance(recovery, 0.28 / Math.sqrt(42), 41);
      expect(found.significant).toBe(false);
      expect(found.t).toAgreeWithin((0.03 * Math.sqrt(42)) / 0.28, 1e-12);
    }
  });

  it('uses the normal distribution where nothing limits the degrees of freedom', () => {
    expect(recoverySignificance(0.9, 0.05, Number.POSITIVE_INFINITY).criticalValue).toAgreeWithin(
      1.959963984540054,
      1e-12,
    );
  });

  it('refuses an uncertainty that is not above 0', () => {
    expect(() => recoverySignificance(0.9, 0, 41)).toThrow(InputError);
    expect(() => recoverySignificance(Number.NaN, 0.1, 41)).toThrow(InputError);
    expect(() => recoverySignificance(0.9, 0.1, 0)).toThrow(InputError);
  });
});
