import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { conversionFactor } from '../../src/quantities/unit.js';
import type { InputQuantity } from '../../src/uncertainty/input-quantity.js';
import { compileModel } from '../../src/uncertainty/model/compile-model.js';
import { propagate } from '../../src/uncertainty/propagate.js';
import { input } from '../support/input.js';
import { model } from '../support/model.js';

const estimates = fc.double({ min: 0.1, max: 100, noNaN: true });
const relative = fc.double({ min: 1e-4, max: 0.05, noNaN: true });

describe('propagate', () => {
  it('adds covariance exactly in linear models', () => {
    const coefficient = fc.oneof(
      fc.double({ min: 0.01, max: 5, noNaN: true }),
      fc.double({ min: -5, max: -0.01, noNaN: true }),
    );
    const r = fc.double({ min: -1, max: 1, noNaN: true });
    fc.assert(
      fc.property(
        fc.tuple(coefficient, coefficient, coefficient),
        estimates,
        estimates,
        r,
        (c, u1, u2, rho) => {
          const inputs = [input('a', 1, u1), input('b', -2, u2), input('d', 3, 1)];
          const linear = model({ y: `${c[0]} * a + (${c[1]}) * b - (${c[2]}) * d + 7` });
          const { outputs } = propagate(linear, inputs, [{ first: 'b', second: 'a', coefficient: rho }]);
          const squares = (c[0] * u1) ** 2 + (c[1] * u2) ** 2 + c[2] ** 2;
          const variance = squares + 2 * rho * c[0] * c[1] * u1 * u2;
          expect(Math.abs(outputs[0]!.standardUncertainty ** 2 - variance)).toBeLessThanOrEqual(
            1e-12 * squares,
          );
          expect(outputs[0]!.sensitivities).toEqual({ a: c[0], b: c[1], d: -c[2] });
        },
      ),
    );
  });

  it('adds relative uncertainties in quadrature in a product of powers', () => {
    const part = fc.record({
      x: estimates,
      rel: relative,
      p: fc.constantFrom(-3, -2, -1, -0.5, 0.5, 1, 1.7, 2, 5),
    });
    fc.assert(
      fc.property(fc.array(part, { minLength: 1, maxLength: 8 }), (parts) => {
        const inputs = parts.map(({ x, rel }, i) => input(`x${i}`, x, x * rel));
        const expression = parts.map(({ p }, i) => `x${i}^(${p})`).join(' * ');
        const y = propagate(model({ y: expression }), inputs).outputs[0]!;
        const relativeVariance = parts.reduce((sum, { rel, p }) => sum + (p * rel) ** 2, 0);
        expect(y.standardUncertainty / y.estimate).toAgreeWithin(Math.sqrt(relativeVariance), 1e-12);
      }),
    );
  });

  it('gives the same whatever the order of the inputs', () => {
    const inputs = ['a', 'b', 'c', 'd'].map((name, i) =>
      input(name, 2 + i, 0.1 * (i + 1), { degreesOfFreedom: 3 + i }),
    );
    const correlations = [
      { first: 'a', second: 'c', coefficient: 0.4 },
      { first: 'd', second: 'a', coefficient: -0.3 },
    ];
    const formulas = model({ s: 'a * b', y: 's / (c + d) - exp(a / d)' });
    const expected = propagate(formulas, inputs, correlations).outputs;
    fc.assert(
      fc.property(fc.shuffledSubarray(inputs, { minLength: 4 }), (shuffled) => {
        const { outputs } = propagate(formulas, shuffled, [...correlations].reverse());
        outputs.forEach((output, i) => {
          expect(output.estimate).toBe(expected[i]!.estimate);
          expect(output.sensitivities).toEqual(expected[i]!.sensitivities);
          expect(output.standardUncertainty).toAgreeWithin(expected[i]!.standardUncertainty, 1e-14);
          expect(output.effectiveDegreesOfFreedom).toAgreeWithin(
            expected[i]!.effectiveDegreesOfFreedom,
            1e-13,
          );
        });
      }),
    );
  });

  it('changes nothing when inputs are expressed in another unit', () => {
    const equation = { name: 'w', description: 'mass fraction', unit: 'mg/kg', expression: 'a / b' };
    const formulas = { title: 'mass fraction', equations: [equation], outputs: ['w'] };
    const before = propagate(formulas, [
      input('a', 3, 0.1, { unit: 'mg' }),
      input('b', 0.02, 0.0005, { unit: 'kg' }),
    ]);
    fc.assert(
      fc.property(fc.constantFrom('µg', 'g', 'kg', 't'), (unit) => {
        const [toA, toB] = [conversionFactor('mg', unit), conversionFactor('kg', unit)];
        const expression = 'a / b * 1e6';
        const after = propagate({ ...formulas, equations: [{ ...equation, expression }] }, [
          input('a', 3 * toA, 0.1 * toA, { unit }),
          input('b', 0.02 * toB, 0.0005 * toB, { unit }),
        ]);
        expect(after.outputs[0]!.estimate).toAgreeWithin(before.outputs[0]!.estimate, 1e-14);
        const u = before.outputs[0]!.standardUncertainty;
        expect(after.outputs[0]!.standardUncertainty).toAgreeWithin(u, 1e-14);
        expect(after.outputs[0]!.sensitivities.a! * toA).toAgreeWithin(
          before.outputs[0]!.sensitivities.a!,
          1e-14,
        );
      }),
    );
  });

  it('gives staged equations the result of the equation written out', () => {
    const inputs = [input('a', 2, 0.1), input('b', 3, 0.2)];
    const staged = propagate(model({ s: 'a * b', q: 's + a', y: 's / q' }, ['y']), inputs);
    const whole = propagate(model({ y: 'a * b / (a * b + a)' }), inputs);
    expect(staged.outputs).toHaveLength(1);
    expect(staged.outputs[0]!.standardUncertainty).toAgreeWithin(
      whole.outputs[0]!.standardUncertainty,
      1e-14,
    );
  });

  it('has covariance of outputs that share inputs', () => {
    const inputs = [input('a', 2, 0.1), input('b', 3, 0.2)];
    const { covariance } = propagate(model({ sum: 'a + b', difference: 'a - b' }), inputs);
    expect(covariance[0]![1]).toAgreeWithin(0.1 ** 2 - 0.2 ** 2, 1e-14);
    expect(covariance[1]![0]).toBe(covariance[0]![1]);
  });

  it('counts the degrees of freedom of one fit once', () => {
    const fit = { degreesOfFreedom: 4, jointSource: 'calibration' };
    const parts: InputQuantity[] = [input('b0', 1, 0.1, fit), input('b1', 2, 0.2, fit)];
    const correlations = [{ first: 'b0', second: 'b1', coefficient: -0.8 }];
    const y = propagate(model({ y: 'b0 + 3 * b1' }), parts, correlations).outputs[0]!;
    expect(y.effectiveDegreesOfFreedom).toAgreeWithin(4, 1e-14);
    const apart = propagate(model({ y: 'b0 + b1' }), [
      input('b0', 1, 0.1, { degreesOfFreedom: 4 }),
      input('b1', 1, 0.1, { degreesOfFreedom: 4 }),
    ]).outputs[0]!;
    expect(apart.effectiveDegreesOfFreedom).toAgreeWithin(8, 1e-14);
  });

  it('takes the smallest number for correlated inputs of different numbers, and says so', () => {
    const inputs = [input('a', 1, 0.1, { degreesOfFreedom: 4 }), input('b', 2, 0.1, { degreesOfFreedom: 9 })];
    const result = propagate(model({ y: 'a + b' }), inputs, [{ first: 'a', second: 'b', coefficient: 0.5 }]);
    expect(result.outputs[0]!.effectiveDegreesOfFreedom).toBe(4);
    expect(result.notes).toHaveLength(1);
    expect(result.notes[0]).toContain('the smallest, 4');
  });

  it('says that correlated inputs of separate evaluations count once', () => {
    const inputs = ['a', 'b'].map((name) => input(name, 1, 0.1, { degreesOfFreedom: 6 }));
    const found = propagate(model({ y: 'a + b' }), inputs, [{ first: 'a', second: 'b', coefficient: 0.2 }]);
    expect(found.outputs[0]!.effectiveDegreesOfFreedom).toAgreeWithin(6, 1e-14);
    expect(found.notes).toEqual([expect.stringContaining('counted once')]);
  });

  it('gives a component held at zero no degrees of freedom', () => {
    const held = input('between', 0, 0, { degreesOfFreedom: 1, sourceKind: 'records' });
    const y = propagate(model({ y: 'a + between' }), [input('a', 1, 0.1, { degreesOfFreedom: 7 }), held]);
    expect(y.outputs[0]!.effectiveDegreesOfFreedom).toAgreeWithin(7, 1e-14);
  });

  it('says where the first-order uncertainty vanishes', () => {
    const result = propagate(model({ y: 'a^2' }), [input('a', 0, 0.1)]);
    expect(result.outputs[0]!.standardUncertainty).toBe(0);
    expect(result.notes.join()).toContain('second-order');
  });

  it('takes quantities of perfect correlation', () => {
    const inputs = [input('a', 1, 0.1), input('b', 1, 0.1), input('c', 1, 0.1)];
    const correlations = [
      { first: 'a', second: 'b', coefficient: 1 },
      { first: 'b', second: 'c', coefficient: 1 },
      { first: 'a', second: 'c', coefficient: 1 },
    ];
    const y = propagate(model({ y: 'a + b + c' }), inputs, correlations).outputs[0]!;
    expect(y.standardUncertainty).toAgreeWithin(0.3, 1e-14);
  });

  const two = [input('a', 1, 0.1), input('b', 2, 0.1)];
  const product = model({ y: 'a * b' });
  const faults: [string, InputQuantity[], Parameters<typeof propagate>[2], string][] = [
    ['an input that is missing', [two[0]!], [], 'needs input quantities not given: b'],
    ['an input that nothing uses', [...two, input('c', 1, 1)], [], '"c" occurs in no equation'],
    [
      'a name in an equation that no input has',
      [...two.slice(1), input('c', 1, 1)],
      [],
      'needs input quantities not given: a',
    ],
    ['a name given twice', [...two, input('a', 1, 1)], [], 'two input quantities have the name "a"'],
    ['a name of an equation', [...two, input('y', 1, 1)], [], 'for an input quantity and for an equation'],
    ['an uncertainty below zero', [two[0]!, input('b', 1, -0.1)], [], 'found standard uncertainty -0.1'],
    [
      'an uncertainty that is no number',
      [two[0]!, input('b', 1, Number.NaN)],
      [],
      'standard uncertainty NaN',
    ],
    ['an uncertainty of zero by judgement', [two[0]!, input('b', 1, 0)], [], 'exact by definition'],
    ['an estimate that is no number', [two[0]!, input('b', Number.NaN, 1)], [], 'found estimate NaN'],
    ['no degrees of freedom', [two[0]!, input('b', 1, 1, { degreesOfFreedom: 0 })], [], 'found 0 degrees'],
    ['an unknown correlated name', two, [{ first: 'a', second: 'x', coefficient: 0 }], 'has the name "x"'],
    ['a correlation with itself', two, [{ first: 'a', second: 'a', coefficient: 1 }], 'found one quantity'],
    ['a coefficient beyond one', two, [{ first: 'a', second: 'b', coefficient: 1.01 }], 'found 1.01'],
    ['a coefficient that is no number', two, [{ first: 'a', second: 'b', coefficient: Number.NaN }], 'NaN'],
    [
      'a pair stated twice',
      two,
      [
        { first: 'a', second: 'b', coefficient: 0.1 },
        { first: 'b', second: 'a', coefficient: 0.1 },
      ],
      'stated twice',
    ],
  ];
  it.each(faults)('refuses %s', (_what, inputs, correlations, message) => {
    expect(() => propagate(product, inputs, correlations)).toThrow(message);
  });

  it('refuses correlations that cannot exist together', () => {
    const three = [...two, input('c', 1, 0.1)];
    const impossible = [
      { first: 'a', second: 'b', coefficient: 0.9 },
      { first: 'b', second: 'c', coefficient: 0.9 },
      { first: 'a', second: 'c', coefficient: -0.9 },
    ];
    expect(() => propagate(model({ y: 'a * b * c' }), three, impossible)).toThrow(
      'not positive semi-definite',
    );
    const chain = impossible.slice(0, 2).map((c) => ({ ...c, coefficient: 1 }));
    expect(() => propagate(model({ y: 'a * b * c' }), three, chain)).toThrow('not positive semi-definite');
  });

  it('refuses parts of one fit with different degrees of freedom', () => {
    const inputs = [3, 4].map((nu, i) =>
      input('ab'[i]!, 1, 1, { degreesOfFreedom: nu, jointSource: 'line' }),
    );
    expect(() => propagate(product, inputs)).toThrow('expected one number');
  });

  it.each([
    ['a / b', input('b', 1, 0.34), 'position 3: the formula divides by a quantity of 1 that reaches 1.02'],
    ['a / (2 * b - 1)', input('b', 1, 0.2), 'divides by a quantity of 1 that reaches 1.2'],
    ['a * b^-2', input('b', 1, 0.34), 'divides by a quantity of 1 that reaches 2.04'],
    ['a * b^(-1.7)', input('b', 1, 0.34), 'divides by a quantity of 1 that reaches 1.02'],
    ['a + log10(b)', input('b', 1, 0.34), 'takes log10 of a quantity of 1'],
    [
      'a / b',
      input('b', 1, 1.1 / Math.sqrt(3), { distribution: { kind: 'rectangular', halfWidth: 1.1 } }),
      'reaches 1.10 to both sides',
    ],
    ['a / b', input('b', 2, 2, { distribution: { kind: 'exponential' } }), 'holds 0'],
  ])('refuses in %s a divisor whose interval holds zero (%#)', (expression, b, message) => {
    expect(() => propagate(model({ y: expression }), [input('a', 1, 0.1), b])).toThrow(message);
  });

  it.each([
    input('b', 1, 0.99 / Math.sqrt(3), { distribution: { kind: 'rectangular', halfWidth: 0.99 } }),
    input('b', 1, 0.7, { distribution: { kind: 'lognormal' } }),
    input('b', 3, Math.sqrt(3), { distribution: { kind: 'gamma from counts', counts: 2 } }),
    input('b', 1, 0.33),
  ])('divides by a quantity whose interval does not reach zero (%#)', (b) => {
    expect(propagate(model({ y: 'a / b' }), [input('a', 1, 0.1), b]).outputs).toHaveLength(1);
  });

  it('refuses an uncertainty that the distribution does not have', () => {
    const wrong = input('b', 1, 0.1, { distribution: { kind: 'rectangular', halfWidth: 0.1 } });
    expect(() => propagate(product, [two[0]!, wrong])).toThrow(
      'the rectangular distribution stated has 0.0577',
    );
  });

  it('refuses units that do not fit each other', () => {
    const equation = { name: 'y', description: '', unit: 'mg', expression: 'a * b' };
    const formulas = { title: 'amount', equations: [equation], outputs: ['y'] };
    const inputs = [input('a', 1, 0.1, { unit: 'mg/kg' }), input('b', 1, 0.1, { unit: 'g' })];
    expect(() => propagate(formulas, inputs)).toThrow('lacks a conversion by 0.001');
  });

  it('names equation and place of a value that is not finite', () => {
    const inputs = [input('a', 1, 0.1), input('b', 0, 0.1)];
    expect(() => propagate(model({ y: 'a / b' }), inputs)).toThrow('equation "y", position 3: found 1 / 0');
  });
});

describe('compileModel', () => {
  it('compiles one model object once', () => {
    const formulas = model({ y: 'a' });
    expect(compileModel(formulas)).toBe(compileModel(formulas));
  });

  it.each([
    [model({}), 'has no equation'],
    [model({ y: 'a' }, []), 'names no output'],
    [model({ y: 'a' }, ['z']), 'output "z" is no equation'],
    [model({ y: 'a' }, ['y', 'y']), 'names the output "y" twice'],
    [model({ '1y': 'a' }), 'found name "1y"'],
    [model({ sqrt: 'a' }), 'taken by a function'],
    [model({ pi: 'a' }), 'taken by the number'],
    [model({ y: 'a + z', z: 'a' }), '"z" is not yet known'],
    [model({ y: 'y + a' }), '"y" is not yet known'],
    [model({ y: '2 * (a' }), 'equation "y": found the end of the formula'],
  ])('refuses a model that cannot be read (%#)', (formulas, message) => {
    expect(() => compileModel(formulas)).toThrow(message);
  });

  it('refuses two equations of one name', () => {
    const equation = { name: 'y', description: '', unit: '1', expression: 'a' };
    const formulas = { title: 't', equations: [equation, equation], outputs: ['y'] };
    expect(() => compileModel(formulas)).toThrow('two equations named "y"');
  });
});
