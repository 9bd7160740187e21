import { describe, expect, it } from 'vitest';
import { criticalRangeFactor, normalRangeCdf } from '../../../src/statistics/distributions/normal-range.js';

describe('the range of normal observations', () => {
  // Upper 5 % points of the studentised range with unlimited degrees of freedom, as in tables of Tukey's test.
  it.each([
    [2, 2.772],
    [3, 3.314],
    [4, 3.633],
    [5, 3.858],
    [6, 4.03],
    [7, 4.17],
    [8, 4.286],
    [9, 4.387],
    [10, 4.474],
    [20, 5.012],
  ])('of %i observations has its tabled upper 5 %% point', (n, point) => {
    // The points are rounded to 0.0005, where the density is at most 0.12.
    expect(Math.abs(normalRangeCdf(point, n) - 0.95)).toBeLessThan(0.0005 * 0.15);
  });

  it('of two is the absolute difference, √2 times a normal deviate', () => {
    // 2·Φ(1) − 1, to 16 digits.
    expect(normalRangeCdf(Math.SQRT2, 2)).toAgreeWithin(0.6826894921370859, 1e-12);
    expect(normalRangeCdf(0, 3)).toBe(0);
  });

  it('gives the factors of the critical range as they are quoted', () => {
    const factors = [2, 3, 4, 5, 6, 7, 8, 9, 10].map(criticalRangeFactor);
    expect(factors).toEqual([2.8, 3.3, 3.6, 3.9, 4, 4.2, 4.3, 4.4, 4.5]);
  });

  it('refuses what has no range', () => {
    expect(() => normalRangeCdf(1, 1)).toThrow('observations of a range: found 1');
    expect(() => normalRangeCdf(-1, 2)).toThrow('range: found -1');
  });
});
