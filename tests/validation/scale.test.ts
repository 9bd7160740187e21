import { describe, expect, it } from 'vitest';
import { InputError } from '../../src/errors.js';
import { scaleOf } from '../../src/validation/scale.js';
import { criterion } from './support.js';

describe('unit of a criterion', () => {
  it('is relative for % and 1, absolute else', () => {
    expect(scaleOf(criterion('at most', 1, '%'), 'mg/kg', 50)).toEqual({
      unit: '%',
      factor: 2,
      relative: true,
    });
    expect(scaleOf(criterion('at most', 1, '1'), 'mg/kg', 50).factor).toBe(0.02);
    expect(scaleOf(criterion('at most', 1, 'mg/kg'), 'mg/kg', 50).factor).toBe(1);
    expect(scaleOf(criterion('at most', 1, 'mg/kg'), 'g/100 g', 50).factor).toBe(10000);
    expect(scaleOf(criterion('at most', 1, 'g/100 g'), 'mg/kg', 50).factor).toBe(1e-4);
    expect(scaleOf(null, 'mg/kg', 50).unit).toBe('%');
  });

  it('refuses a unit that does not fit and a relative figure without reference', () => {
    expect(() => scaleOf(criterion('at most', 1, 'h'), 'mg/kg', 50)).toThrow(InputError);
    expect(() => scaleOf(criterion('at most', 1, '%'), 'mg/kg', 0)).toThrow(InputError);
  });
});
