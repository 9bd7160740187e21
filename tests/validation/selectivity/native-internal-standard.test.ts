import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { nativeInternalStandard } from '../../../src/validation/selectivity/native-internal-standard.js';
import { criterion, valuesWith } from '../support.js';

const options = { analyte: 'Sc', level: 'ZP-4', criterion: criterion('at most', 0.1, '%'), digestion: 'D-9' };

describe('native internal-standard element', () => {
  it('is judged by the upper limit over the readings', () => {
    expect(nativeInternalStandard(valuesWith(0.0002, 0.0001, 3), options).verdict).toBe('met');
    expect(nativeInternalStandard(valuesWith(0.005, 0.0001, 3), options).verdict).toBe('not met');
    expect(nativeInternalStandard(valuesWith(0.0009, 0.0003, 3), options).verdict).toBe('not shown');
  });

  it('needs more than one reading to be shown', () => {
    expect(nativeInternalStandard([0], options).verdict).toBe('not shown');
    expect(() => nativeInternalStandard([], options)).toThrow(InputError);
  });
});
