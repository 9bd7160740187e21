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

  it('brings differences to the unit of the criterion: g/100 g against mg/kg and back', () => {
    // Every candidate result 0.08 g/100 g, which is 800 mg/kg, below the reference.
    const zirconium = Array.from({ length: 12 }, (_, i) => ({
      key: `${i}`,
      reference: 60 + i / 4,
      candidate: 60 + i / 4 - 0.08 + (i % 2 ? 0.001 : -0.001),
    }));
    const judged = (unit: string, limit: number, resultUnit: string) =>
      methodComparison(zirconium, {
        ...options,
        unit: resultUnit,
        criterion: criterion('within', limit, unit),
      });
    const { finding, differences, relative } = judged('mg/kg', 1, 'g/100 g');
    expect(finding).toMatchObject({ unit: 'mg/kg', verdict: 'not met' });
    expect(finding.quantity).toBe('mean difference from XRF');
    expect(finding.estimate!).toAgreeWithin(-800, 1e-9);
    expect(relative).toBe(false);
    expect(differences[1]!).toAgreeWithin(-0.079, 1e-9);
    expect(judged('mg/kg', 900, 'g/100 g').finding.verdict).toBe('met');
    expect(judged('g/100 g', 1e-4, 'mg/kg').finding.estimate!).toAgreeWithin(-8e-6, 1e-9);
    expect(judged('1', 0.01, 'g/100 g').relative).toBe(true);
    expect(() => judged('h', 1, 'g/100 g')).toThrow('unit of the criterion: found h');
  });

  it('shows differences in the unit of the results where a reference result is 0 and no criterion is set', () => {
    const withZero = [...rows(1.01), { key: 'zero', reference: 0, candidate: 1 }];
    const found = methodComparison(withZero, { ...options, criterion: null });
    expect(found.finding).toMatchObject({ unit: 'mg/kg', verdict: 'no criterion' });
    expect(found.differences.at(-1)).toBe(1);
    expect(methodComparison(rows(1.01), { ...options, criterion: null }).finding.unit).toBe('%');
    expect(() => methodComparison(withZero, options)).toThrow('reference result of zero');
  });

  it('tells a proportional difference by the lines', () => {
    const found = methodComparison(rows(1.1), options);
    expect(found.deming.fit!.slope).toAgreeWithin(1.1, 0.02);
    expect(found.passingBablok.fit!.slope).toAgreeWithin(1.1, 0.02);
  });

  it('judges the mean difference where no line can be drawn, and says why there is none', () => {
    const level = [4.9, 5, 5.1, 5, 4.9, 5.1, 5, 5, 4.9, 5.1, 5, 5];
    const same = level.map((candidate, i) => ({ key: `${i}`, reference: 5, candidate }));
    const found = methodComparison(same, options);
    expect(found.finding.verdict).toBe('met');
    expect(found.deming).toEqual({
      fit: null,
      missing: 'deming: x and y do not vary together; the slope is undefined',
    });
    expect(found.passingBablok.missing).toContain('x hardly varies');
    expect(methodComparison(rows(1, 9), options).deming.missing).toBe('fewer than 10 samples');
  });

  it('shows nothing with five samples and refuses one', () => {
    expect(methodComparison(rows(1, 5), options).finding.verdict).toBe('not shown');
    expect(() => methodComparison(rows(1, 1), options)).toThrow(InputError);
  });
});
