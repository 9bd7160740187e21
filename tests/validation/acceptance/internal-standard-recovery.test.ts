import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { internalStandardRecovery } from '../../../src/validation/acceptance/internal-standard-recovery.js';
import { criterion } from '../support.js';

const options = { analyte: 'Sc', level: '*', criterion: criterion('within', 110, '%', 90) };
const rows = (values: readonly number[]) =>
  values.map((recovery, i) => ({ key: `D-${i}`, run: 'R-1', recovery }));

describe('recovery of the internal standard', () => {
  it('must lie within limits for every solution, and names those that do not', () => {
    expect(internalStandardRecovery(rows([0.95, 1.02]), options).finding.verdict).toBe('met');
    const failed = internalStandardRecovery(rows([0.95, 0.85, 1.2]), options);
    expect(failed.finding.verdict).toBe('not met');
    expect(failed.finding.estimate).toAgreeWithin(120, 1e-12);
    expect(failed.finding.notes[1]).toBe('Failing: D-1 of R-1; D-2 of R-1.');
  });

  it('shows the one farthest off where there is no criterion', () => {
    const found = internalStandardRecovery(rows([0.95, 1.02]), { ...options, criterion: null });
    expect(found.finding.estimate).toAgreeWithin(95, 1e-12);
    expect(found.finding.verdict).toBe('no criterion');
  });

  it('refuses no solution', () => {
    expect(() => internalStandardRecovery([], options)).toThrow(InputError);
  });
});
