import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { targetUncertainty } from '../../../src/validation/acceptance/target-uncertainty.js';
import { criterion } from '../support.js';

const options = {
  analyte: 'Al',
  level: 'low',
  unit: 'mg/kg',
  criterion: criterion('at most', 5, '%'),
  result: 200,
  expandedUncertainty: 10,
  coverageFactor: 2,
  coverageProbability: 0.95,
  effectiveDegreesOfFreedom: 60,
  unresolvedBias: null,
  rows: [],
};

describe('target uncertainty', () => {
  it('compares the relative expanded uncertainty as it stands', () => {
    expect(targetUncertainty(options)).toMatchObject({ verdict: 'met', estimate: 5 });
    expect(targetUncertainty({ ...options, expandedUncertainty: 10.1 }).verdict).toBe('not met');
  });

  it('states with a met target what it rests on that is itself open, and only there', () => {
    const conditions = ['the procedure blank of Al is not shown'];
    const met = targetUncertainty({ ...options, conditions });
    expect(met.verdict).toBe('met');
    expect(met.reason).toContain('On a condition: the procedure blank of Al is not shown.');
    const failed = targetUncertainty({ ...options, conditions, expandedUncertainty: 11 });
    expect(failed.reason).not.toContain('On a condition');
    expect(failed.conditions).toBe(undefined);
  });

  it('shows nothing while a bias is unresolved', () => {
    const found = targetUncertainty({ ...options, unresolvedBias: 'Trueness is not met.' });
    expect(found.verdict).toBe('not shown');
    expect(found.reason).toContain('Trueness is not met.');
  });

  it('refuses a negative uncertainty and a result of 0', () => {
    expect(() => targetUncertainty({ ...options, expandedUncertainty: -1 })).toThrow(InputError);
    expect(() => targetUncertainty({ ...options, result: 0 })).toThrow(InputError);
  });
});
