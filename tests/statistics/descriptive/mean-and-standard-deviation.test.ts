import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { mean } from '../../../src/statistics/descriptive/mean.js';
import {
  standardDeviation,
  sumOfSquaredDeviations,
  variance,
} from '../../../src/statistics/descriptive/standard-deviation.js';
import { errorAgainst, errorAgainstRoot, exactMean, exactVariance } from '../../support/exact-univariate.js';
import { Rational } from '../../support/rational.js';

/** Data that defeat textbook formulas: a common offset up to 1e12 times the spread. */
const hostile = fc
  .tuple(
    fc.integer({ min: -1_000_000_000_000, max: 1_000_000_000_000 }),
    fc.array(fc.integer({ min: -10_000_000, max: 10_000_000 }), { minLength: 2, maxLength: 60 }),
  )
  .map(([offset, values]) => values.map((x) => offset + x / 1e6));

/** Largest number squared: a standard deviation beyond it has no binary64 number. */
const largestSquare = Rational.from(Number.MAX_VALUE).times(Rational.from(Number.MAX_VALUE));

describe('mean, variance and standard deviation', () => {
  it('agree with exact rational arithmetic to the last bits on data with large offsets', () => {
    fc.assert(
      fc.property(hostile, (values) => {
        expect(errorAgainst(mean(values), exactMean(values))).toBeLessThan(1.2e-16);
        expect(errorAgainst(variance(values), exactVariance(values))).toBeLessThan(1e-15);
        expect(errorAgainstRoot(standardDeviation(values), exactVariance(values))).toBeLessThan(1e-15);
      }),
    );
  });

  it('agree with exact rational arithmetic over the whole range of numbers', () => {
    const any = fc.double({ noNaN: true, noDefaultInfinity: true });
    fc.assert(
      fc.property(fc.array(any, { minLength: 2, maxLength: 20 }), (values) => {
        const largest = Math.max(...values.map(Math.abs));
        fc.pre(largest > 1e-280);
        expect(errorAgainst(mean(values), exactMean(values))).toBeLessThan(1e-15);
        const exact = exactVariance(values);
        const limit = exact.over(largestSquare).toNumber();
        if (limit > 1 + 1e-13)
          expect(() => standardDeviation(values)).toThrow(/exceeds the range of numbers/);
        else if (limit < 1 - 1e-13)
          expect(errorAgainstRoot(standardDeviation(values), exact)).toBeLessThan(1e-14);
      }),
    );
  });

  it('give equal values a deviation of exactly zero', () => {
    expect(mean([0.1, 0.1, 0.1])).toBe(0.1);
    expect(standardDeviation([0.1, 0.1, 0.1])).toBe(0);
    expect(variance([1e300, 1e300])).toBe(0);
  });

  it('refuse a variance beyond the range of numbers, not the standard deviation', () => {
    expect(standardDeviation([-1e200, 1e200])).toAgreeWithin(Math.SQRT2 * 1e200, 1e-15);
    expect(() => variance([-1e200, 1e200])).toThrow(/exceeds the range/);
    expect(() => standardDeviation([-1.7e308, 1.7e308])).toThrow(
      new InputError(
        'values: the standard deviation exceeds the range of numbers; expected values below 1e308',
      ),
    );
    expect(standardDeviation([-1.2e308, 1.2e308])).toAgreeWithin(Math.SQRT2 * 1.2e308, 1e-15);
    expect(() => sumOfSquaredDeviations([-1e200, 1e200])).toThrow(InputError);
  });
});
