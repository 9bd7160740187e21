import { describe, expect, it } from 'vitest';
import { InputError } from '../../src/errors.js';
import { estimatedWeights } from '../../src/statistics/regression/estimated-weights.js';
import { york } from '../../src/statistics/regression/york.js';

// Three points of equal variance 1 at −1, 0, 1: 1 − w·h is 1/6, 2/3, 1/6; heights at 0 are the mean of the three.
const fit = york([-1, 0, 1], [0.5, -1, 0.5], [0, 0, 0], [1, 1, 1]);

describe('a line with estimated weights', () => {
  it('agrees with Welch–Satterthwaite for the one contrast that three points leave', () => {
    // (y₁ − 2y₂ + y₃)²/6 = 9/6; its variance 1 + 4 + 1 has (1 + 4 + 1)²/((1 + 16 + 1)/7) = 14 degrees of freedom.
    const { scatter } = estimatedWeights(fit, [1, 1, 1], [7, 7, 7]);
    expect(scatter.f).toAgreeWithin(1.5, 1e-12);
    expect(scatter.degreesOfFreedomAbove).toBe(1);
    expect(scatter.degreesOfFreedomBelow).toAgreeWithin(14, 1e-12);
  });

  it('raises the variance of the height and gives it degrees of freedom', () => {
    // At 0 all c are 1/3: 1/3 + 4·(1/9)·(1/6 + 2/3 + 1/6)/(6 − 2) = 4/9 and (1/3)²/(3·(1/9)²/6) = 18.
    const found = estimatedWeights(fit, [1, 1, 1], [6, 6, 6]).heightVariance(0);
    expect(found.variance).toAgreeWithin(4 / 9, 1e-12);
    expect(found.degreesOfFreedom).toAgreeWithin(18, 1e-12);
    // Half of ν = 1 stands where ν − 2 would be below 0: 1/3 + 4·(1/9)/0.5.
    expect(estimatedWeights(fit, [1, 1, 1], [1, 1, 1]).heightVariance(0).variance).toAgreeWithin(
      11 / 9,
      1e-12,
    );
  });

  it('is the fit’s own where the uncertainties are known', () => {
    const { heightVariance, scatter } = estimatedWeights(fit, [1, 1, 1], [Infinity, Infinity, Infinity]);
    expect(heightVariance(0)).toEqual({
      variance: expect.closeTo(1 / 3, 12) as number,
      degreesOfFreedom: Number.POSITIVE_INFINITY,
    });
    expect(scatter.pValue).toAgreeWithin(fit.pValue, 1e-12);
  });

  it('refuses lists that do not fit, and no degrees of freedom', () => {
    expect(() => estimatedWeights(fit, [1, 1], [5, 5])).toThrow(InputError);
    expect(() => estimatedWeights(fit, [1, 1, 0], [5, 5, 5])).toThrow(InputError);
    expect(() => estimatedWeights(fit, [1, 1, 1], [5, 5, 0])).toThrow(InputError);
  });
});
