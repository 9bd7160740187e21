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
  ],
  losses: [{ name: 'loss on ignition', massFraction: 4.5 }],
  standardUncertainty: 0.4,
  degreesOfFreedom: Infinity,
  days: 5,
  rows: [],
  notes: ['ZP-2: mean over 5 days'],
};

describe('total of oxides', () => {
  it('adds the contributions, never normalised, and judges with the uncertainty handed in', () => {
    const found = totalOfOxides(options);
    expect(found.total).toAgreeWithin(99.5, 1e-12);
    expect(found.finding.verdict).toBe('met');
    expect(found.finding.notes).toContain('ZP-2: mean over 5 days');
    // z(0.95) = 1.644854.
    expect(found.finding.limits!.lowerOneSided).toAgreeWithin(99.5 - 0.4 * 1.6448536269514722, 1e-9);
    expect(totalOfOxides({ ...options, standardUncertainty: 2 }).finding.verdict).toBe('not shown');
  });

  it('is not met where the total is off for sure', () => {
    const contributions = [{ name: 'ZrO2', massFraction: 90 }];
    expect(totalOfOxides({ ...options, contributions }).finding.verdict).toBe('not met');
  });

  it('is named by what is in it', () => {
    expect(totalOfOxides(options).finding.quantity).toBe('total of oxides and loss on ignition');
    const { finding, total } = totalOfOxides({ ...options, losses: [] });
    expect(finding.quantity).toBe('total of oxides');
    expect(total).toAgreeWithin(95, 1e-12);
  });

  it('is not shown by fewer than five days, and has no limits of one', () => {
    const four = totalOfOxides({ ...options, days: 4 }).finding;
    expect(four.verdict).toBe('not shown');
    expect(four.reason).toContain('Found 4 day(s); at least 5 days');
    expect(four.limits).not.toBeNull();
    const one = totalOfOxides({ ...options, days: 1, standardUncertainty: null });
    expect(one.finding).toMatchObject({ verdict: 'not shown', limits: null, degreesOfFreedom: null });
    expect(one.standardUncertainty).toBeNull();
  });

  it('refuses nothing to add', () => {
    expect(() => totalOfOxides({ ...options, contributions: [], losses: [] })).toThrow(InputError);
  });
});
