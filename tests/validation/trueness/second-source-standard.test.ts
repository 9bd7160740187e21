import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { secondSourceStandard } from '../../../src/validation/trueness/second-source-standard.js';
import { criterion, valuesWith } from '../support.js';

const options = {
  analyte: 'Al',
  level: 'check',
  unit: 'mg/kg',
  criterion: criterion('within', 2, '%'),
  standard: 'STD-B',
  prepared: 5,
  preparedStandardUncertainty: 0.012,
  stockStandardUncertainty: 0.016,
};
const rows = (values: readonly number[]) => values.map((value, i) => ({ key: `${i}`, run: `R-${i}`, value }));

describe('second-source standard', () => {
  it('carries the uncertainties of both standards as common to all runs', () => {
    const found = secondSourceStandard(rows(valuesWith(5.01, 0.03, 9)), options);
    expect(found.difference).toAgreeWithin(0.01, 1e-9);
    expect(found.standardUncertainty).toAgreeWithin(Math.hypot(0.01, 0.02), 1e-12);
    expect(found.finding.verdict).toBe('met');
    expect(found.ratio).toAgreeWithin(0.01 / (2 * Math.hypot(0.01, 0.02)), 1e-9);
  });

  it('finds a stock that is wrong, and shows nothing from one run', () => {
    expect(secondSourceStandard(rows(valuesWith(5.3, 0.03, 4)), options).finding.verdict).toBe('not met');
    expect(secondSourceStandard(rows([5]), options).finding.verdict).toBe('not shown');
    expect(() => secondSourceStandard([], options)).toThrow(InputError);
  });
});
