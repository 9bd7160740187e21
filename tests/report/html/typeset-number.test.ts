import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { digitsAsGiven, typesetNumber } from '../../../src/report/html/typeset-number.js';

function read(value: number, digits: number): number {
  const { whole, rest } = typesetNumber(value, digits);
  const plain = (whole + rest)
    .replace(/[\u202f\u2009]/g, '')
    .replace(/\u2212/g, '-')
    .replace(/×10<sup>(.*)<\/sup>/, 'e$1');
  return Number(plain);
}

describe('a typeset number', () => {
  it('reads back to the same number at 15 digits, as far as these reach', () => {
    const size = fc.double({ min: 1e-300, max: 1e300, noNaN: true });
    fc.assert(
      fc.property(size, fc.boolean(), (value, negative) => {
        const signed = negative ? -value : value;
        expect(read(signed, 15)).toAgreeWithin(signed, 1e-14);
      }),
    );
  });

  it('never differs from its value by more than half a unit of the last digit', () => {
    const ordinary = fc.double({ min: 1e-12, max: 1e12, noNaN: true });
    fc.assert(
      fc.property(ordinary, fc.integer({ min: 1, max: 12 }), (value, digits) => {
        const unit = 10 ** (Math.floor(Math.log10(value)) - digits + 1);
        expect(Math.abs(read(value, digits) - value)).toBeLessThanOrEqual(0.5000001 * unit);
      }),
    );
  });

  it('keeps the zeros that its digits ask for', () => {
    expect(typesetNumber(0.5, 3)).toEqual({ whole: '0', rest: '.500', width: 4 });
    expect(typesetNumber(99.96, 3)).toEqual({ whole: '100', rest: '', width: 0 });
  });

  it('counts the digits that a chosen value was given with', () => {
    expect([0.025, 3, 12.5, 100, 0.1].map(digitsAsGiven)).toEqual([2, 1, 3, 1, 1]);
  });
});
