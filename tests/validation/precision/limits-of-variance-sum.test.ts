import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { randomStream } from '../../../src/uncertainty/random-stream.js';
import { limitsOfVarianceSum } from '../../../src/validation/precision/limits-of-variance-sum.js';

const term = (coefficient: number, meanSquare: number, degreesOfFreedom: number) => ({
  coefficient,
  meanSquare,
  degreesOfFreedom,
});

/** How often upper limits lie below the truth and lower limits above it; the second mean square has expectation 1. */
function missRates(c1: number, c2: number, ratio: number) {
  const trials = 4000;
  const stream = randomStream(81, 'variance sum', c2, ratio);
  const meanSquare = (variance: number, nu: number) => {
    let sum = 0;
    for (let i = 0; i < nu; i++) sum += stream.normal() ** 2;
    return (variance * sum) / nu;
  };
  const truth = c1 * ratio + c2;
  let below = 0;
  let above = 0;
  for (let trial = 0; trial < trials; trial++) {
    const first = term(c1, meanSquare(ratio, 6), 6);
    const second = term(c2, meanSquare(1, 7), 7);
    const found = limitsOfVarianceSum(first, second, 0.05);
    if (found.upper < truth) below++;
    if (found.lower > truth) above++;
  }
  return { below: below / trials, above: above / trials, trials };
}

describe('limits of a sum of mean squares', () => {
  it('are the exact χ² limits where one term is alone', () => {
    const found = limitsOfVarianceSum(term(1, 2, 5), term(0, 7, 9), 0.05);
    // χ²(0.05; 5) = 1.145476 and χ²(0.95; 5) = 11.070498 of any table.
    expect(found.upper).toAgreeWithin(10 / 1.145476226, 1e-8);
    expect(found.lower).toAgreeWithin(10 / 11.0704976935, 1e-8);
  });

  // Error rates of the 95 % limits for 6 and 7 degrees of freedom and coefficients of a half, from 400 000 samples drawn in R:
  // the lower limit is somewhat too eager (7.1 % where the mean squares agree), the upper one cautious.
  it.each([
    ['mean squares that agree', 0.5, 1, 0.0175, 0.0711],
    ['a first mean square three times the second', 0.5, 3, 0.0273, 0.0596],
    ['a first mean square five times the second', 0.5, 5, 0.0359, 0.0539],
  ])('miss the truth as often as an independent simulation says: %s', (_, c, ratio, upper, lower) => {
    const { below, above, trials } = missRates(c, c, ratio);
    const error = (p: number) => 3.3 * Math.sqrt((p * (1 - p)) / trials);
    expect(Math.abs(below - upper)).toBeLessThan(error(upper));
    expect(Math.abs(above - lower)).toBeLessThan(error(lower));
  });

  // Approximate limits of a difference: the source reports confidence of a 95 % limit between about 93.5 and 99 %.
  it.each([
    ['three times', 3],
    ['hardly more than', 1.2],
  ])('hold for a difference whose first mean square is %s the second', (_, ratio) => {
    const { below, above } = missRates(0.5, -0.25, ratio);
    for (const rate of [below, above]) {
      expect(rate).toBeLessThan(0.075);
      expect(rate).toBeGreaterThan(0.005);
    }
  });

  it('refuse a first coefficient of 0 and a negative mean square', () => {
    expect(() => limitsOfVarianceSum(term(0, 1, 5), term(1, 1, 5), 0.05)).toThrow(InputError);
    expect(() => limitsOfVarianceSum(term(1, -1, 5), term(1, 1, 5), 0.05)).toThrow(InputError);
  });
});
