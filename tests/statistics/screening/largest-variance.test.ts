import { describe, expect, it } from 'vitest';
import { cochranCritical, largestVariance } from '../../../src/statistics/screening/cochran.js';

describe('the largest of several variances', () => {
  it('is told by the F distribution, in closed form for 2 and 4 degrees of freedom', () => {
    // Others pooled: (3·1 + 1·3)/4 = 1.5, of which 6 is 4 times; P(F(2, 4) > f) = (1 + f/2)^−2 = 1/9, times three variances.
    const found = largestVariance([1, 6, 3], [3, 2, 1]);
    expect([found.largest, found.ratio]).toEqual([1, 4]);
    // The F distribution by its continued fraction: some 1e-15.
    expect(Math.abs(3 * found.pValue - 1)).toBeLessThan(1e-13);
  });

  it.each([
    [6, 4, 0.05],
    [20, 3, 0.01],
    [44, 3, 0.001],
  ])('reaches its level where its share is Cochran’s limit: %i variances of %i results', (p, n, alpha) => {
    // share = v/(v + p − 1) with all others 1; ISO 5725-2:2019, 8.3.3 (clause from memory), its table held by published-examples.
    const share = cochranCritical(p, n, alpha);
    const variances = [...new Array<number>(p - 1).fill(1), ((p - 1) * share) / (1 - share)];
    const { largest, pValue } = largestVariance(variances, new Array<number>(p).fill(n - 1));
    expect(largest).toBe(p - 1);
    // A quantile and back: what one rounding of the share moves, 1e-16 times a condition of some thousands.
    expect(Math.abs(pValue / alpha - 1)).toBeLessThan(1e-11);
  });
});
