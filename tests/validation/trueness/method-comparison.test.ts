import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { methodComparison } from '../../../src/validation/trueness/method-comparison.js';
import { blockAt, classicalSet } from '../../support/reference-sets.js';
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
  it('gives the cheese yields by factory and laboratory (Daudin, Duby and Trecourt 1988)', () => {
    const set = classicalSet('milk-composition');
    const expected = blockAt(set.results, 'cheese_dry_factory_versus_lab');
    const paired = blockAt(set.results, 'cheese_dry_factory_versus_lab', 'paired_t');
    const columns = {
      reference: set.numbers('cheese_dry_lab'),
      candidate: set.numbers('cheese_dry_factory'),
    };
    const found = methodComparison(
      columns.reference.map((reference, i) => ({ key: `${i}`, reference, candidate: columns.candidate[i]! })),
      { ...options, unit: 'g', criterion: criterion('within', 0.5, 'g') },
    );
    expect(Math.abs(found.meanDifference)).toAgreeWithin(Math.abs(Number(paired.estimate)), 1e-9);
    expect(found.standardDeviation).toAgreeWithin(Number(expected.sd_of_differences), 1e-10);
    const [low, high] = expected['limits_of_agreement_1.96'] as unknown as number[];
    expect(found.limitsOfAgreement.low).toAgreeWithin(low!, 1e-9);
    expect(found.limitsOfAgreement.high).toAgreeWithin(high!, 1e-9);
    expect(found.finding.verdict).toBe('met');
  });

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
