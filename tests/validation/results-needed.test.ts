import { describe, expect, it } from 'vitest';
import { unitsForMean } from '../../src/validation/results-needed.js';
import { trueness } from '../../src/validation/trueness/trueness.js';
import { criterion, rowsOfDays, valuesWith } from './support.js';

const allowed = criterion('within', 1.72, 'mg/kg');

describe('units that a mean needs', () => {
  // 25 days: u² = 1.5²/25 + 1 = 1.09, ν = 1.09²·24/0.09² = 3520, t = 1.6453: 1.718. 24 days: u² = 1.09375, 1.6454·1.0458 = 1.721.
  it('are counted by the rule of the verdict', () => {
    expect(unitsForMean(0, 1.5, 1, 5, allowed, 'days')).toBe(
      'With the mean and spread found, about 25 days in all would show it.',
    );
    const verdict = (days: number) =>
      trueness(rowsOfDays(valuesWith(100, 1.5, days).map((value) => [value])), {
        analyte: 'Al',
        level: 'RM-1',
        unit: 'mg/kg',
        criterion: allowed,
        certified: { material: 'RM-1', value: 100, standardUncertainty: 1 },
      }).finding.verdict;
    expect([verdict(24), verdict(25)]).toEqual(['not shown', 'met']);
  });

  it('carry the degrees of freedom of what they do not lower', () => {
    // t of 3 degrees of freedom is 2.353: 1 alone does not keep 1.72, though 1.645 would.
    const fixed = { standardUncertainty: 1, degreesOfFreedom: 3 };
    expect(unitsForMean(0, 1.5, fixed, 5, allowed, 'days')).toContain('reference is too large');
  });

  it('say when the mean does not keep it, when the reference is too uncertain, and when it takes too many', () => {
    expect(unitsForMean(2, 1, 0, 5, allowed, 'days')).toContain('look for the cause');
    expect(unitsForMean(0, 1, 1.1, 5, allowed, 'days')).toContain('reference is too large');
    expect(unitsForMean(1.71, 1.5, 0, 5, allowed, 'days')).toBe('More than 1000 days would be needed.');
  });
});
