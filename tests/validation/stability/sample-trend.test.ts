import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { sampleTrend } from '../../../src/validation/stability/sample-trend.js';
import { criterion } from '../support.js';

const options = { analyte: 'Al', level: 'ZP-2', unit: 'mg/kg', criterion: criterion('within', 2, '%') };

/** Runs with values 100 at the middle and the given change in % over positions 1 to 41. */
const rows = (changes: readonly number[]) =>
  changes.flatMap((change, r) =>
    [1, 11, 21, 31, 41].map((position) => ({
      key: `${r}-${position}`,
      run: `R-${r}`,
      position,
      value: 100 * (1 + (change / 100) * ((position - 21) / 40)),
    })),
  );

describe('trend along a run', () => {
  it('is the change over the run by a line, mean over the runs', () => {
    const found = sampleTrend(rows([0.5, 0.7, 0.6]), options);
    expect(found.runs[0]!.relativeChange).toAgreeWithin(0.005, 1e-9);
    expect(found.finding.estimate).toAgreeWithin(0.6, 1e-9);
    expect(found.finding.verdict).toBe('met');
    expect(sampleTrend(rows([-5, -5.1, -4.9]), options).finding.verdict).toBe('not met');
  });

  it('shows nothing from one run and refuses runs too short', () => {
    expect(sampleTrend(rows([0]), options).finding.verdict).toBe('not shown');
    expect(() => sampleTrend(rows([0]).slice(0, 2), options)).toThrow(InputError);
    expect(() => sampleTrend([], options)).toThrow(InputError);
  });
});
