import { describe, expect, it } from 'vitest';
import { betaUpperQuantile } from '../../../src/statistics/distributions/beta.js';
import { deviateMaximum } from '../../../src/statistics/screening/deviate-maximum.js';
import { doubleGrubbsProbability } from '../../../src/statistics/screening/double-grubbs.js';
import { grubbsCritical } from '../../../src/statistics/screening/grubbs.js';

describe('the largest standardised deviate', () => {
  it('of three values has the closed form 3/π·(arcsin d − π/6)', () => {
    for (const d of [0.51, 0.6, 0.75, 0.9, 0.99]) {
      expect(deviateMaximum(3).cdf(d)).toAgreeWithin((3 / Math.PI) * (Math.asin(d) - Math.PI / 6), 1e-10);
    }
  });

  it.each([4, 6, 10, 20, 40])('of %i values joins the closed form of its upper end without a step', (n) => {
    const { cdf } = deviateMaximum(n);
    const join = Math.sqrt(Math.min((n - 2) / (2 * n - 2), betaUpperQuantile(2e-7 / n, 0.5, (n - 2) / 2)));
    expect(Math.abs(cdf(join + 1e-12) - cdf(join - 1e-12))).toBeLessThan(1e-7);
  });

  it("exceeds Grubbs' one-sided limit with the level of the test: the bound is exact for few values", () => {
    for (const n of [4, 8, 12]) {
      const d = (grubbsCritical(n, 0.05, 1) * Math.sqrt(n)) / (n - 1);
      expect(1 - deviateMaximum(n).cdf(d)).toAgreeWithin(0.05, 1e-6);
    }
  });
});

describe('the ratio without the two largest values', () => {
  it('is at most 1 with probability 1, whatever the number of values', () => {
    for (const n of [4, 5, 6, 10, 20, 60]) expect(doubleGrubbsProbability(1, n)).toAgreeWithin(1, 2e-6);
  });

  it('grows with the ratio', () => {
    const probabilities = [0.05, 0.1, 0.2, 0.4, 0.6, 0.8].map((r) => doubleGrubbsProbability(r, 9));
    expect([...probabilities].sort((a, b) => a - b)).toEqual(probabilities);
  });
});
