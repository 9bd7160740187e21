import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { checkSolution } from '../../../src/validation/acceptance/check-solution.js';
import { criterion } from '../support.js';

const options = { analyte: 'Al', level: 'check', unit: 'mg/kg', criterion: criterion('within', 5, '%') };
const rows = (found: readonly number[]) =>
  found.map((value, i) => ({ key: `C-${i}`, run: 'R-1', position: i + 1, found: value, nominal: 2 }));

describe('check solution', () => {
  it('must keep the allowed deviation at each reading: the worst one is the figure', () => {
    const kept = checkSolution(rows([2.02, 1.94, 2.05]), options);
    expect(kept.finding.verdict).toBe('met');
    expect(kept.finding.estimate).toAgreeWithin(-3, 1e-12);
    const failed = checkSolution(rows([2, 2, 2.12]), options);
    expect(failed.finding.verdict).toBe('not met');
    expect(failed.failing.map((reading) => reading.key)).toEqual(['C-2']);
    expect(failed.finding.notes[0]).toContain('C-2 of R-1');
  });

  it('can be judged in the unit of the contents', () => {
    const absolute = { ...options, criterion: criterion('within', 0.05, 'mg/kg') };
    expect(checkSolution(rows([2.04]), absolute).finding.verdict).toBe('met');
    expect(checkSolution(rows([2.06]), absolute).finding.unit).toBe('mg/kg');
  });

  it('refuses no reading and a nominal content of 0', () => {
    expect(() => checkSolution([], options)).toThrow(InputError);
    expect(() => checkSolution([{ ...rows([1])[0]!, nominal: 0 }], options)).toThrow(InputError);
  });
});
