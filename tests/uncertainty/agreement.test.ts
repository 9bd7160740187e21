import { describe, expect, it } from 'vitest';
import { agreementOf } from '../../src/uncertainty/agreement.js';
import { numericalTolerance } from '../../src/uncertainty/numerical-tolerance.js';

describe('numericalTolerance', () => {
  // JCGM 101:2008, 7.9.2, examples (remembered): 0.00035 with 2 digits has δ = 0.000005; 2 K with 1 digit has δ = 0.5.
  it.each([
    [0.00035, 2, 0.000005],
    [2, 1, 0.5],
    [2, 2, 0.05],
    [0.996, 2, 0.05],
    [0.994, 2, 0.005],
    [1234, 2, 50],
  ])('of %d with %d digits is %d', (u, digits, tolerance) => {
    expect(numericalTolerance(u, digits)).toBe(tolerance);
  });

  it('refuses an uncertainty of zero', () => {
    expect(() => numericalTolerance(0, 2)).toThrow('standard uncertainty: found 0');
  });
});

describe('agreementOf', () => {
  const additive = { estimate: 0, standardUncertainty: 2, expandedUncertainty: 3.92 };

  it('finds the dominant rectangular input of JCGM 101, 9.2.4, to disagree', () => {
    // Remembered: propagation [-19.9, 19.9], exact [-17.0, 17.0], u = 10.1; δ = 0.5.
    const found = agreementOf(
      { estimate: 0, standardUncertainty: 10.1489, expandedUncertainty: 19.8915 },
      { low: -17.0158, high: 17.0158 },
    );
    expect(found.agrees).toBe(false);
    expect(found.tolerance).toBe(0.5);
    expect(found.lowDifference).toAgreeWithin(2.8757, 1e-9);
    expect(found.statement).toContain('does not agree');
  });

  it('holds both ends to the tolerance', () => {
    expect(agreementOf(additive, { low: -3.88, high: 3.88 }).agrees).toBe(true);
    expect(agreementOf(additive, { low: -3.88, high: 3.98 }).agrees).toBe(false);
    expect(agreementOf(additive, { low: -3.98, high: 3.88 }).agrees).toBe(false);
    expect(agreementOf(additive, { low: -3.88, high: 4.4 }, 1).agrees).toBe(true);
  });

  it('refuses an end that is no number', () => {
    expect(() => agreementOf(additive, { low: Number.NaN, high: 1 })).toThrow('found NaN');
  });
});
