import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { trend } from '../../../src/statistics/screening/trend.js';

describe('trend', () => {
  it('refuses a slope beyond the range of numbers instead of giving no number', () => {
    const values = [1e300, 2e300, 1e300, 3e300];
    expect(() => trend(values, [0, 1e-20, 2e-20, 3e-20])).toThrow(/exceed the range of numbers/);
    expect(() => trend([-1.7e308, 0, 1.7e308, -1.7e308, 0], [0, 5e-324, 1e-323, 1.5e-323, 2e-323])).toThrow(
      InputError,
    );
    // Deviations from the mean 1.75e300: slope = Σ dt·dy / Σ dt² = (−1.5·−0.75 − 0.5·0.25 + 0.5·−0.75 + 1.5·1.25)/5 · 1e300.
    expect(trend(values, [0, 1, 2, 3]).slope).toAgreeWithin(0.5e300, 1e-14);
  });

  it('refuses a coverage that is not between 0 and 1, by name', () => {
    for (const coverage of [0, 1, -0.5, 95, Number.NaN]) {
      expect(() => trend([1, 2, 3.1, 4], undefined, coverage), String(coverage)).toThrow(/^coverage: found/);
    }
  });
});
