import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { crucibleMemory } from '../../../src/validation/stability/crucible-memory.js';
import { criterion, valuesWith } from '../support.js';

const options = {
  analyte: 'Fe',
  level: 'ZP-5',
  unit: 'mg/kg',
  criterion: criterion('at most', 0.6, '%'),
  richMassFraction: 5000,
};

const memory = (values: readonly number[]) =>
  values.map((value, i) => ({ key: `M-${i}`, crucible: 'Pt-10', after: `H-${i}`, value }));
const blanks = (values: readonly number[]) => values.map((value, i) => ({ key: `B-${i}`, value }));

describe('crucible memory', () => {
  it('is the excess of blanks after rich samples, with Welch’s degrees of freedom', () => {
    const found = crucibleMemory(memory(valuesWith(80, 6, 9)), blanks(valuesWith(5, 2, 4)), options);
    // Variances of the means 36/9 = 4 and 4/4 = 1: u² = 5, ν = 25/(16/8 + 1/3).
    expect(found.excess).toAgreeWithin(75, 1e-12);
    expect(found.standardUncertainty).toAgreeWithin(Math.sqrt(5), 1e-12);
    expect(found.degreesOfFreedom).toAgreeWithin(25 / (2 + 1 / 3), 1e-12);
    expect(found.finding.estimate).toAgreeWithin(1.5, 1e-12);
    expect(found.finding.verdict).toBe('not met');
  });

  it('is met where blanks after rich samples are like others', () => {
    const found = crucibleMemory(memory(valuesWith(6, 2, 6)), blanks(valuesWith(5, 2, 10)), options);
    expect(found.finding.verdict).toBe('met');
    expect(found.finding.rows[0]!.keys.length).toBe(16);
  });

  it('refuses a single blank of either kind', () => {
    expect(() => crucibleMemory(memory([1]), blanks([1, 2]), options)).toThrow(InputError);
    expect(() => crucibleMemory(memory([1, 2]), blanks([1]), options)).toThrow(InputError);
  });
});
