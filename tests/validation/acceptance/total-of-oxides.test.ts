import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { totalOfOxides } from '../../../src/validation/acceptance/total-of-oxides.js';
import { criterion } from '../support.js';

const options = {
  level: 'ZP-2',
  criterion: criterion('within', 102.5, 'g/100 g', 97.5),
  contributions: [
    { name: 'ZrO2', massFraction: 63 },
    { name: 'SiO2', massFraction: 32 },
    { name: 'loss on ignition', massFraction: 4.5 },
  ],
  standardUncertainty: 0.4,
  degreesOfFreedom: Infinity,
  rows: [],
};

describe('total of oxides', () => {
  it('adds the contributions, never normalised, and judges with the uncertainty handed in', () => {
    const found = totalOfOxides(options);
    expect(found.total).toAgreeWithin(99.5, 1e-12);
    expect(found.finding.verdict).toBe('met');
    // z(0.95) = 1.644854.
    expect(found.finding.limits!.lowerOneSided).toAgreeWithin(99.5 - 0.4 * 1.6448536269514722, 1e-9);
    expect(totalOfOxides({ ...options, standardUncertainty: 2 }).finding.verdict).toBe('not shown');
  });

  it('is not met where the total is off for sure', () => {
    const contributions = [{ name: 'ZrO2', massFraction: 90 }];
    expect(totalOfOxides({ ...options, contributions }).finding.verdict).toBe('not met');
  });

  it('refuses nothing to add', () => {
    expect(() => totalOfOxides({ ...options, contributions: [] })).toThrow(InputError);
  });
});
