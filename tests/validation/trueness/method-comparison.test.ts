import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { methodComparison } from '../../../src/validation/trueness/method-comparison.js';
import { criterion } from '../support.js';

const options = {
  analyte: 'Fe',
  level: 'range',
  unit: 'mg/kg',
  criterion: criterion('within', 5, '%'),
  referenceMethod: 'XRF',
};
const rows = (ratio: number, n = 12) =>
  Array.from({ length: n }, (_, i) => ({
    key: `${i}`,
    reference: 100 + 10 * i,
    candidate: (100 + 10 * i) * (ratio + 0.01 * Math.sin(5 * i)),
  }));

describe('comparison of methods', () => {
  it('judges the mean relative difference by two one-sided tests', () => {
    expect(methodComparison(rows(1.01), options).finding.verdict).toBe('met');
    expect(methodComparison(rows(1.1), options).finding.verdict).toBe('not met');
    expect(methodComparison(rows(1.05), options).finding.verdict).toBe('not shown');
  });

  it('tells a proportional difference by the lines', () => {
    const found = methodComparison(rows(1.1), options);
    expect(found.deming!.slope).toAgreeWithin(1.1, 0.02);
    expect(found.passingBablok!.slope).toAgreeWithin(1.1, 0.02);
  });

  it('shows nothing with five samples and refuses one', () => {
    expect(methodComparison(rows(1, 5), options).finding.verdict).toBe('not shown');
    expect(() => methodComparison(rows(1, 1), options)).toThrow(InputError);
  });
});
