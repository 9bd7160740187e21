import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatSignificant, roundToUncertainty } from '../../src/quantities/rounding.js';

describe('roundToUncertainty', () => {
  it.each([
    // JCGM 100:2008, 4.4.3 and 7.2.6 (remembered): 100.145 with 0.333 is printed 100.14 with 0.33.
    [100.145, 0.333, '100.14', '0.33'],
    [10.05762, 0.027, '10.058', '0.027'],
    [0.42, 0.0199, '0.420', '0.020'],
    [1.2345, 0.0996, '1.23', '0.10'],
    [1.2345, 0.0995, '1.23', '0.10'],
    [1.2345, 0.0985, '1.234', '0.098'],
    [123456, 1250, '123500', '1200'],
    [123456, 1350, '123500', '1400'],
    [123450, 1000, '123400', '1000'],
    [-0.0004, 0.012, '0.000', '0.012'],
    [-2.345, 0.012, '-2.345', '0.012'],
    [0, 3, '0.0', '3.0'],
    [3, 25000, '0', '25000'],
    [600, 25000, '1000', '25000'],
    [400, 25000, '0', '25000'],
    [0.1 + 0.2 + 0.05, 1, '0.4', '1.0'],
    [1e-12, 2.25e-13, '0.00000000000100', '0.00000000000022'],
  ])('writes %d with %d as %s and %s', (value, uncertainty, valueText, uncertaintyText) => {
    const found = roundToUncertainty(value, uncertainty);
    expect([found.valueText, found.uncertaintyText]).toEqual([valueText, uncertaintyText]);
    expect(found.value).toBe(Number(valueText));
  });

  it('stays within half a unit of the last place, and shows the digits asked for', () => {
    const size = fc.double({ min: 1e-9, max: 1e9, noNaN: true });
    fc.assert(
      fc.property(size, size, fc.integer({ min: 1, max: 4 }), (value, uncertainty, digits) => {
        const found = roundToUncertainty(value, uncertainty, digits);
        const half = 0.5 * 10 ** -found.decimals;
        expect(Math.abs(found.value - value)).toBeLessThanOrEqual(half * (1 + 1e-9) + value * 1e-14);
        expect(Math.abs(found.uncertainty - uncertainty)).toBeLessThanOrEqual(half * (1 + 1e-9));
        const shown = found.uncertaintyText.replace('.', '').replace(/^0+/, '');
        expect(found.decimals >= 0 ? shown.length : digits).toBe(digits);
        const again = roundToUncertainty(found.value, found.uncertainty, digits);
        expect(again.valueText).toBe(found.valueText);
      }),
    );
  });

  it.each([
    [1, 0, 2, 'uncertainty: found 0'],
    [1, -1, 2, 'uncertainty: found -1'],
    [Number.NaN, 1, 2, 'found NaN'],
    [1, 1, 0, 'found 0, expected a whole number from 1 to 10'],
  ])('refuses %d ± %d to %d digits', (value, uncertainty, digits, message) => {
    expect(() => roundToUncertainty(value, uncertainty, digits)).toThrow(message);
  });
});

describe('formatSignificant', () => {
  it.each([
    [0.0123449, 3, '0.0123'],
    [0.01235, 3, '0.0124'],
    [0.01245, 3, '0.0124'],
    [9.995, 3, '10.0'],
    [999.5, 3, '1000'],
    [12345, 2, '12000'],
    [1.5e-7, 3, '1.50e-7'],
    [-2.5e12, 1, '-2e12'],
    [9.96e-8, 2, '1.0e-7'],
    [0, 3, '0.00'],
    [100, 5, '100.00'],
  ])('writes %d to %d digits as %s', (value, digits, text) => {
    expect(formatSignificant(value, digits)).toBe(text);
  });

  it('agrees with the language where no half is at stake', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-5, max: 1e8, noNaN: true }),
        fc.integer({ min: 1, max: 10 }),
        (v, digits) => {
          expect(Number(formatSignificant(v, digits))).toBe(Number(v.toPrecision(digits)));
        },
      ),
    );
  });

  it('refuses what is no number', () => {
    expect(() => formatSignificant(Infinity, 3)).toThrow('found Infinity');
  });
});
