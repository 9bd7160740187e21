import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { portionWeighing } from '../../../src/validation/acceptance/portion-weighing.js';
import { criterion } from '../support.js';

const options = {
  analyte: '*',
  level: 'portion',
  criterion: criterion('at most', 0.3, '%'),
  balance: 'BAL-1',
  portionG: 0.2,
  standardUncertaintyG: 0.0002,
  rows: [],
};

describe('weighing of the portion', () => {
  it('compares the relative standard uncertainty as it stands', () => {
    expect(portionWeighing(options).verdict).toBe('met');
    expect(portionWeighing(options).estimate).toAgreeWithin(0.1, 1e-12);
    expect(portionWeighing({ ...options, standardUncertaintyG: 0.0007 }).verdict).toBe('not met');
  });

  it('refuses no portion', () => {
    expect(() => portionWeighing({ ...options, portionG: 0 })).toThrow(InputError);
  });
});
