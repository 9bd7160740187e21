import { describe, expect, it } from 'vitest';
import { groupBudget } from '../../src/uncertainty/group-budget.js';
import { makeBudget } from '../../src/uncertainty/make-budget.js';
import { propagate } from '../../src/uncertainty/propagate.js';
import { reportingLine } from '../../src/uncertainty/reporting-line.js';
import { input } from '../support/input.js';
import { model } from '../support/model.js';

const inputs = [
  input('a', 10, 0.3, { step: 'weighing', equipment: 'B1' }),
  input('b', 5, 0.4, { step: 'volume', degreesOfFreedom: 6, sourceKind: 'records' }),
  input('c', 1, 0.1, { step: 'weighing', equipment: 'B1' }),
];
const correlations = [{ first: 'a', second: 'b', coefficient: -0.5 }];

describe('makeBudget', () => {
  const budget = makeBudget(propagate(model({ y: 'a + b - 2 * c' }), inputs, correlations), 'y');

  it('has a line for each input in the order given', () => {
    expect(budget.lines.map((line) => [line.input.name, line.sensitivity])).toEqual([
      ['a', 1],
      ['b', 1],
      ['c', -2],
    ]);
    expect(budget.lines.map((line) => line.contribution)).toEqual([0.3, 0.4, 0.2]);
  });

  it('splits the covariance evenly, so that shares add to one', () => {
    const variance = 0.09 + 0.16 + 0.04 - 0.12;
    expect(budget.standardUncertainty).toAgreeWithin(Math.sqrt(variance), 1e-14);
    const expected = [(0.09 - 0.06) / variance, (0.16 - 0.06) / variance, 0.04 / variance];
    budget.lines.forEach((line, i) => {
      expect(line.share).toAgreeWithin(expected[i]!, 1e-12);
    });
    expect(budget.lines.reduce((sum, { share }) => sum + share, 0)).toAgreeWithin(1, 1e-14);
  });

  it('expands by t for the effective degrees of freedom', () => {
    // Two quantities of one standard uncertainty, one with 5 degrees of freedom: ν = 4·5 = 20; t = 2.085963 (qt in R).
    const two = [input('a', 1, 0.1), input('b', 1, 0.1, { degreesOfFreedom: 5 })];
    const found = makeBudget(propagate(model({ y: 'a + b' }), two), 'y');
    expect(found.effectiveDegreesOfFreedom).toAgreeWithin(20, 1e-14);
    expect(found.coverageFactor).toAgreeWithin(2.0859634472658364, 1e-12);
    expect(found.expandedUncertainty).toBe(found.coverageFactor * found.standardUncertainty);
  });

  it('may have a negative share', () => {
    const strong = [{ first: 'a', second: 'b', coefficient: -0.99 }];
    const found = makeBudget(propagate(model({ y: 'a + b - 2 * c' }), inputs, strong), 'y');
    expect(found.lines[0]!.share).toBeLessThan(0);
  });

  it('has shares of zero where nothing is uncertain to first order', () => {
    const found = makeBudget(propagate(model({ y: 'a^2' }), [input('a', 0, 0.1)]), 'y');
    expect(found.lines[0]!.share).toBe(0);
    expect(found.expandedUncertainty).toBe(0);
    expect(found.notes.join()).toContain('second-order');
  });

  it('refuses an output that was not propagated', () => {
    const propagation = propagate(model({ s: 'a + b', y: 's - c' }, ['y']), inputs);
    expect(() => makeBudget(propagation, 's')).toThrow('"s" is not among those propagated: y');
  });

  it('is gathered by step, equipment and kind of source', () => {
    const steps = groupBudget(budget, 'step');
    expect(steps.map(({ name, inputs: names }) => [name, names])).toEqual([
      ['weighing', ['a', 'c']],
      ['volume', ['b']],
    ]);
    expect(steps[0]!.share).toBe(budget.lines[0]!.share + budget.lines[2]!.share);
    expect(steps[1]!.contribution).toBe(budget.standardUncertainty * Math.sqrt(budget.lines[1]!.share));
    expect(groupBudget(budget, 'equipment').map(({ name }) => name)).toEqual(['B1', 'no equipment']);
    expect(groupBudget(budget, 'sourceKind').map(({ name }) => name)).toEqual(['judgement', 'records']);
  });
});

describe('reportingLine', () => {
  it('writes a result as JCGM 100, 7.2.4 does', () => {
    // JCGM 100:2008, 7.2.4 (remembered): m_s = (100.021 47 ± 0.000 79) g, k = 2.26 for 9 degrees of freedom.
    const mass = [input('m', 100.02147, 0.00035, { unit: 'g', degreesOfFreedom: 9 })];
    const equation = { name: 'm_s', description: 'mass', unit: 'g', expression: 'm' };
    const propagation = propagate({ title: 'mass', equations: [equation], outputs: ['m_s'] }, mass);
    const line = reportingLine(makeBudget(propagation, 'm_s'));
    expect(line.result).toBe('m_s = (100.02147 ± 0.00079) g');
    expect(line.basis).toContain('k = 2.26, based on the t distribution for 9.00 degrees of freedom');
    expect(line.basis).toContain('about 95 %');
  });

  it('names the normal distribution where degrees of freedom have no limit', () => {
    const line = reportingLine(makeBudget(propagate(model({ y: 'a' }), [inputs[0]!]), 'y', 0.9545));
    expect(line.result).toBe('y = (10.00 ± 0.60)');
    expect(line.basis).toContain('k = 2.00, based on the normal distribution');
    expect(line.basis).toContain('about 95.45 %');
  });
});
