import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { asFraction, horwitz } from '../../../src/validation/precision/horwitz.js';

describe('the Horwitz function', () => {
  // Horwitz 1982, Anal. Chem. 54, 67A, the "trumpet"; figures remembered and recomputed.
  it.each([
    [1, '2'],
    [0.1, '2.8'],
    [0.01, '4'],
    [0.001, '5.7'],
    [1e-4, '8'],
    [1e-5, '11'],
    [1e-6, '16'],
    [1e-7, '23'],
    [1e-8, '32'],
    [1e-9, '45'],
  ])('is at mass fraction %d the printed %s %%', (massFraction, printed) => {
    expect(horwitz(massFraction).horwitzPercent).toRoundTo(printed);
  });

  it('is amended at both ends (Thompson 2000, Analyst 125, 385; remembered)', () => {
    expect(horwitz(1e-8).thompsonPercent).toAgreeWithin(22, 1e-12);
    expect(horwitz(1).thompsonPercent).toAgreeWithin(1, 1e-12);
    expect(horwitz(1e-4).thompsonPercent).toAgreeWithin(2 * 1e-4 ** -0.1505, 1e-12);
  });

  it('takes mass fractions only', () => {
    expect(asFraction(25, 'g/100 g')).toBe(0.25);
    expect(() => asFraction(1, 'mg/L')).toThrow(InputError);
    expect(() => horwitz(0)).toThrow(InputError);
    expect(() => horwitz(1.1)).toThrow(InputError);
  });
});
