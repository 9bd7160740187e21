import { describe, expect, it } from 'vitest';
import { believableCounts } from '../../../src/coverage/error-rates/believable-counts.js';
import { errorRate } from '../../../src/coverage/error-rates/error-rate.js';
import { errorRates } from '../../../src/coverage/error-rates/error-rates.js';
import { InputError } from '../../../src/errors.js';

/** Probability of at most k of n, by adding up the terms. */
function atMost(k: number, n: number, p: number): number {
  let term = (1 - p) ** n;
  let sum = term;
  for (let i = 1; i <= k; i++) {
    term *= ((n - i + 1) / i) * (p / (1 - p));
    sum += term;
  }
  return sum;
}

describe('believable counts', () => {
  it.each([
    [0.05, 500],
    [0.2, 100],
    [0.5, 40],
  ])('leave at most 0.05 %% on either side of p = %d, n = %d', (p, n) => {
    const { low, high } = believableCounts(p, n);
    expect(atMost(low - 1, n, p)).toBeLessThanOrEqual(0.0005);
    expect(atMost(low, n, p)).toBeGreaterThan(0.0005);
    expect(1 - atMost(high, n, p)).toBeLessThanOrEqual(0.0005);
    expect(1 - atMost(high - 1, n, p)).toBeGreaterThan(0.0005);
    // By symmetry, successes and failures exchanged.
    expect(believableCounts(1 - p, n)).toEqual({ low: n - high, high: n - low });
  });

  it('refuse what is no probability', () => {
    expect(() => believableCounts(1.2, 500)).toThrow(InputError);
    expect(() => believableCounts(0.5, 0)).toThrow(InputError);
  });
});

describe('error rates', () => {
  it('hold on unseen seeds', () => {
    const rates = errorRates(31_000, 200);
    expect(rates.filter((rate) => !rate.holds)).toEqual([]);
    // Each kind is there: precision, bias, recovery, detection, power.
    for (const word of [
      'σ_r',
      'σ_I',
      'bias',
      'recovery',
      'false detection',
      'missed detection',
      'power of trueness',
    ])
      expect(rates.some((rate) => rate.about.includes(word))).toBe(true);
    // Narrow enough to fail: no rate believes everything.
    expect(rates.filter((rate) => rate.believed.high - rate.believed.low >= rate.of / 4)).toEqual([]);
  });

  it('fail where the probability is another one', () => {
    expect(errorRate('an interval at 90 %', 450, 500, { low: 0.95, high: 0.95 }).holds).toBe(false);
    expect(errorRate('an error rate of 10 %', 50, 500, { low: 0, high: 0.05 }).holds).toBe(false);
    expect(errorRate('an error rate of 4 %', 20, 500, { low: 0, high: 0.05 }).holds).toBe(true);
    expect(() => errorRates(1, 5)).toThrow(InputError);
  });
});
