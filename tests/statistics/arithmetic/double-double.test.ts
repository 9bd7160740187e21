import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  add,
  type DoubleDouble,
  divide,
  multiply,
  narrow,
  squareRoot,
  subtract,
  sum,
  twoProduct,
  twoSum,
  wide,
  withoutNoise,
} from '../../../src/statistics/arithmetic/double-double.js';
import { WideSum } from '../../../src/statistics/arithmetic/wide-sum.js';
import { exactSum, Rational } from '../../support/rational.js';

const exact = (value: DoubleDouble) => Rational.from(value.hi).plus(Rational.from(value.lo));

/** |found − expected| / |expected|, exactly. */
function relativeError(found: DoubleDouble, expected: Rational): number {
  const difference = exact(found).minus(expected);
  return expected.isZero() ? Math.abs(difference.toNumber()) : Math.abs(difference.over(expected).toNumber());
}

const number = fc
  .tuple(fc.integer({ min: -(2 ** 40), max: 2 ** 40 }), fc.integer({ min: -60, max: 60 }))
  .map(([m, e]) => m * 2 ** e);
const two = fc.tuple(number, number).map(([a, b]) => twoSum(a, b * 2 ** -55));

describe('double-double arithmetic', () => {
  it('keeps the rounding error of a sum and of a product of two numbers', () => {
    fc.assert(
      fc.property(number, number, (a, b) => {
        const [x, y] = [Rational.from(a), Rational.from(b)];
        expect(exact(twoSum(a, b)).minus(x.plus(y)).isZero()).toBe(true);
        expect(exact(twoProduct(a, b)).minus(x.times(y)).isZero()).toBe(true);
      }),
    );
  });

  it('adds, subtracts, multiplies, divides and takes roots to 31 digits', () => {
    fc.assert(
      fc.property(two, two, (a, b) => {
        const [x, y] = [exact(a), exact(b)];
        // A sum may cancel: its error is measured by the larger part.
        const size = Math.max(Math.abs(narrow(a)), Math.abs(narrow(b)));
        const sumError = Math.abs(exact(add(a, b)).minus(x.plus(y)).toNumber());
        expect(sumError).toBeLessThanOrEqual(1e-31 * size);
        expect(Math.abs(exact(subtract(a, b)).minus(x.minus(y)).toNumber())).toBeLessThanOrEqual(
          1e-31 * size,
        );
        expect(relativeError(multiply(a, b), x.times(y))).toBeLessThan(1e-30);
        if (!y.isZero()) expect(relativeError(divide(a, b), x.over(y))).toBeLessThan(1e-30);
        const square = multiply(a, a);
        if (!x.isZero())
          expect(relativeError(multiply(squareRoot(square), squareRoot(square)), exact(square))).toBeLessThan(
            1e-29,
          );
      }),
    );
  });

  it('sums lists and running totals of hostile order to 31 digits of their size', () => {
    fc.assert(
      fc.property(fc.array(number, { minLength: 1, maxLength: 40 }), (values) => {
        const size = values.reduce((total, v) => total + Math.abs(v), 0);
        const running = new WideSum();
        for (const value of values) running.add(value, 0);
        for (const found of [sum(values), running.value()]) {
          expect(Math.abs(exact(found).minus(exactSum(values)).toNumber())).toBeLessThanOrEqual(1e-30 * size);
        }
      }),
    );
  });

  it('runs products in place as it multiplies them apart', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(two, two), { minLength: 1, maxLength: 12 }), (pairs) => {
        const running = new WideSum();
        let size = 0;
        let total = new Rational(0n);
        for (const [a, b] of pairs) {
          running.addProduct(a.hi, a.lo, b.hi, b.lo);
          total = total.plus(exact(a).times(exact(b)));
          size += Math.abs(a.hi * b.hi);
        }
        expect(Math.abs(exact(running.value()).minus(total).toNumber())).toBeLessThanOrEqual(1e-29 * size);
      }),
    );
  });

  it('tells rounding from variation', () => {
    expect(withoutNoise(wide(1e-60), 1)).toEqual({ hi: 0, lo: 0 });
    expect(withoutNoise(wide(1e-40), 1)).toEqual({ hi: 1e-40, lo: 0 });
    expect(squareRoot(wide(0))).toEqual({ hi: 0, lo: 0 });
  });
});
