import { describe, expect, it } from 'vitest';
import { RecordsError } from '../../../src/errors.js';
import type { BudgetFile } from '../../../src/uncertainty/budget-file/budget-file.js';
import { decodeBudgetFile } from '../../../src/uncertainty/budget-file/decode-budget-file.js';
import { evaluateBudgetFile } from '../../../src/uncertainty/budget-file/evaluate-budget-file.js';
import { reference, referenceNames } from '../../support/reference.js';

const about = { description: 'quantity', unit: '1', source: 'paper', step: 'reading' };

const sound = {
  format: 'meltbook budget 1',
  title: 'product',
  equations: [{ name: 'y', description: 'product', unit: '1', expression: 'a * b' }],
  outputs: ['y'],
  inputs: [
    { ...about, from: 'judgement', name: 'a', value: 2, standardUncertainty: 0.1 },
    { ...about, from: 'limits', name: 'b', lower: 1, upper: 3, shape: { kind: 'triangular' } },
  ],
  targets: [
    { output: 'y', expandedUncertainty: 2 },
    { output: 'y', expandedUncertainty: 1 },
  ],
};

function issuesOf(json: unknown): string[] {
  try {
    decodeBudgetFile(json, 'budget.json');
    return [];
  } catch (error) {
    if (!(error instanceof RecordsError)) throw error;
    return error.issues.map(({ column, found, expected }) => `${column}: ${found}; ${expected}`);
  }
}

describe('decodeBudgetFile', () => {
  const budgets = referenceNames('uncertainty')
    .map((name) => reference<{ id: string; budget?: BudgetFile }>(name))
    .filter(({ budget }) => budget !== undefined);

  it.each(budgets)('reads the budget of $id', ({ budget }) => {
    expect(decodeBudgetFile(JSON.parse(JSON.stringify(budget)), 'budget.json')).toEqual(budget);
  });

  it('evaluates outputs and targets', () => {
    const { budgets: made, targets } = evaluateBudgetFile(decodeBudgetFile(sound, 'budget.json'));
    expect(made).toHaveLength(1);
    expect(made[0]!.standardUncertainty).toAgreeWithin(Math.hypot(2 * 0.1, 2 / Math.sqrt(6)), 1e-14);
    expect(targets.map(({ target, met }) => [target, met])).toEqual([
      [2, true],
      [1, false],
    ]);
  });

  it('reports all faults of form at once', () => {
    const [a, b] = sound.inputs;
    const found = issuesOf({
      ...sound,
      format: 'budget',
      title: '',
      outputs: [],
      extra: 1,
      coverageProbability: 95,
      inputs: [
        { ...a, standardUncertainty: -1, value: '2' },
        { ...b, shape: { kind: 'square' } },
        { ...about, name: 'c', from: 'hearsay' },
        { ...about, name: 'd', from: 'observations', values: [1, null] },
        { ...about, name: 'e', from: 'counts', counts: 1.5 },
        7,
      ],
      correlations: [{ first: 'a', coefficient: 0.1 }],
    });
    expect(found).toEqual([
      'format: "budget"; "meltbook budget 1"',
      'title: ""; a text that is not empty',
      'outputs: 0 item(s); at least 1',
      'inputs[0].value: "2"; a number',
      'inputs[0].standardUncertainty: -1; a number above 0',
      'inputs[1].shape.kind: "square"; one of "rectangular", "triangular", "arcsine", "trapezoidal", "curvilinear trapezoid"',
      'inputs[2].from: "hearsay"; one of "certificate", "limits", "observations", "judgement", "counts", "definition", "statement"',
      'inputs[3].values[1]: null; a number',
      'inputs[4].counts: 1.5; a whole number',
      'inputs[5]: 7; an object',
      expect.stringContaining('extra: an unknown key; one of format, title'),
      'coverageProbability: 95; a number below 1',
      'correlations[0].second: no such key; a text: name of another input',
    ]);
  });

  it('reports all formulas, units and inputs that cannot be used', () => {
    const found = issuesOf({
      ...sound,
      equations: [{ name: 'y', description: 'product', unit: 'foo', expression: 'a *' }],
      inputs: [
        { ...about, from: 'certificate', name: 'a', value: 1, expandedUncertainty: 1, unit: 'bar foo' },
        { ...about, from: 'limits', name: 'b', lower: 3, upper: 1, shape: { kind: 'triangular' } },
      ],
    });
    expect(found.map((line) => line.split(':')[0])).toEqual([
      'equations[0].expression',
      'equations[0].unit',
      'inputs[0]',
      'inputs[0].unit',
      'inputs[1]',
    ]);
  });

  it.each([
    [{ outputs: ['z'] }, 'output "z" is no equation'],
    [{ targets: [{ output: 'a', expandedUncertainty: 1 }] }, 'target for "a"'],
    [{ inputs: [sound.inputs[0]] }, '"b", which is not defined'],
    [{ inputs: [sound.inputs[0], { ...sound.inputs[1], unit: 'g' }] }, 'the declared 1'],
    [
      {
        inputs: [
          { ...about, from: 'observations', name: 'a', values: [1, 2], jointSource: 'set' },
          { ...about, from: 'observations', name: 'b', values: [1, 2, 3], jointSource: 'set' },
        ],
      },
      'expected equally many',
    ],
  ])('reports what cannot be evaluated: %j', (change, message) => {
    const [issue, ...more] = issuesOf({ ...sound, ...change });
    expect(issue).toContain(message);
    expect(more).toEqual([]);
  });

  it.each([
    ['a.constructor', 2],
    ['constructor("return process")()', 1],
    ['import(a)', 1],
    ['createUnit("x")', 1],
    ['a = b', 3],
    ['sqrt(a) = b', 9],
    ['f(a) = a', 6],
    ['a["b"]', 2],
    ['__proto__', 1],
    ['a; b', 2],
    ['a -> b', 4],
  ])('refuses the formula %s by its path, at position %i', (expression, position) => {
    const equations = [{ ...sound.equations[0]!, expression }];
    const [issue, ...more] = issuesOf({ ...sound, equations });
    expect(issue).toMatch(/^equations\[0\]\.expression: /);
    expect(issue).toContain(`position ${position}`);
    expect(more).toEqual([]);
  });

  it.each([
    [
      { inputs: [{ ...sound.inputs[0], standardUncertainty: 0 }, sound.inputs[1]] },
      'inputs[0].standardUncertainty: 0',
    ],
    [{ inputs: [sound.inputs[0], { ...sound.inputs[1], upper: 1 }] }, 'inputs[1]: '],
    [
      { inputs: [sound.inputs[0], { ...sound.inputs[1], name: 'a' }] },
      'two input quantities have the name "a"',
    ],
    [
      { inputs: [sound.inputs[0], { ...sound.inputs[1], name: 'y' }] },
      'for an input quantity and for an equation',
    ],
    [
      {
        equations: [{ ...sound.equations[0], expression: 'b / a' }],
        inputs: [{ ...sound.inputs[0], standardUncertainty: 0.7 }, sound.inputs[1]],
      },
      'position 3: the formula divides by a quantity of 2 that reaches 2.10',
    ],
    [{ correlations: [{ first: 'a', second: 'b', coefficient: 1.2 }] }, '1.2'],
    [{ actions: [{ name: 'more', changes: [{ input: 'c', factor: 0.5 }] }] }, 'one of a, b'],
    [
      { actions: [{ name: 'more', changes: [{ input: 'a', factor: -1 }] }] },
      'actions[0].changes[0].factor: -1; a number of at least 0',
    ],
  ])('reports what makes no budget: %j', (change, message) => {
    const [issue, ...more] = issuesOf({ ...sound, ...change });
    expect(issue).toContain(message);
    expect(more).toEqual([]);
  });

  it('does not put the nearest possible matrix in the place of impossible correlations', () => {
    const three = ['a', 'b', 'c'].map((name) => ({ ...sound.inputs[0]!, name }));
    const pair = (first: string, second: string, coefficient: number) => ({ first, second, coefficient });
    const correlations = [pair('a', 'b', 0.9), pair('b', 'c', 0.9), pair('a', 'c', -0.9)];
    const equations = [{ ...sound.equations[0]!, expression: 'a * b * c' }];
    const [issue] = issuesOf({ ...sound, equations, inputs: three, correlations });
    expect(issue).toContain('not positive semi-definite');
  });

  it.each([[null], ['text'], [[]], [{}]])('refuses %j', (json) => {
    expect(issuesOf(json).length).toBeGreaterThan(0);
  });

  it('is not led astray by names that every object has', () => {
    const [a] = sound.inputs;
    const odd = { ...sound, inputs: [{ ...a, from: 'constructor' }, sound.inputs[1]] };
    expect(issuesOf(odd)[0]).toContain('inputs[0].from');
    const proto = JSON.parse(JSON.stringify(sound).replace('"targets"', '"__proto__"')) as unknown;
    expect(issuesOf(proto)[0]).toContain('__proto__');
  });
});
