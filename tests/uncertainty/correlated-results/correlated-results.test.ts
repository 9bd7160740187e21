import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import {
  meanOfResults,
  ratioOfResults,
  sumOfResults,
  withSomeParts,
} from '../../../src/uncertainty/correlated-results/combine-results.js';
import {
  correlationOf,
  covarianceMatrixOf,
  covarianceOf,
  effectiveDegreesOfFreedomOf,
  standardUncertaintyOf,
} from '../../../src/uncertainty/correlated-results/correlated-result.js';
import { resultFromInputs } from '../../../src/uncertainty/correlated-results/result-from-inputs.js';
import type { InputQuantity } from '../../../src/uncertainty/input-quantity.js';
import { exactValue } from '../../../src/uncertainty/inputs/exact-value.js';
import { locateCorrelations } from '../../../src/uncertainty/model/correlation-matrix.js';
import { propagate } from '../../../src/uncertainty/propagate.js';

function input(
  name: string,
  estimate: number,
  standardUncertainty: number,
  degreesOfFreedom = Infinity,
): InputQuantity {
  return {
    ...exactValue({ name, description: name, unit: '1', value: estimate, source: 'test', step: 'test' }),
    name,
    unit: '1',
    estimate,
    standardUncertainty,
    degreesOfFreedom,
    distribution: degreesOfFreedom === Infinity ? { kind: 'normal' } : { kind: 't' },
    sourceKind: 'records',
    withinPrecision: false,
  };
}

/** JCGM 100:2008, H.2: voltage, current and phase from five simultaneous observations (read; Table H.2 and H.3). */
const h2 = {
  inputs: [
    input('V', 4.999, 0.0032, 4),
    input('I', 0.019661, 0.000009471, 4),
    input('phi', 1.04446, 0.00075206, 4),
  ],
  correlations: [
    { first: 'V', second: 'I', coefficient: -0.36 },
    { first: 'V', second: 'phi', coefficient: 0.86 },
    { first: 'I', second: 'phi', coefficient: -0.65 },
  ],
};
const model = {
  title: 'impedance',
  equations: [
    { name: 'R', description: 'resistance', unit: '1', expression: 'V / I * cos(phi)' },
    { name: 'X', description: 'reactance', unit: '1', expression: 'V / I * sin(phi)' },
    { name: 'Z', description: 'impedance', unit: '1', expression: 'V / I' },
  ],
  outputs: ['R', 'X', 'Z'],
};

function resultsOfH2() {
  const joint = propagate(model, h2.inputs, h2.correlations);
  const results = joint.outputs.map((output) =>
    resultFromInputs({
      name: output.name,
      unit: '1',
      estimate: output.estimate,
      inputs: h2.inputs,
      sensitivities: h2.inputs.map(({ name }) => output.sensitivities[name]!),
      correlations: locateCorrelations(h2.inputs, h2.correlations),
      keys: h2.inputs.map(({ name }) => name),
    }),
  );
  return { joint, results };
}

describe('correlated results', () => {
  it('have the covariance matrix that the law of propagation gives them together', () => {
    const { joint, results } = resultsOfH2();
    const matrix = covarianceMatrixOf(results);
    matrix.forEach((row, i) => {
      row.forEach((value, j) => {
        expect(value).toAgreeWithin(joint.covariance[i]![j]!, 1e-10);
      });
    });
    // JCGM 100:2008, Table H.4: r(R, X) = −0.588, r(R, Z) = −0.485, r(X, Z) = 0.993 (from memory), from rounded inputs.
    expect(correlationOf(results[0]!, results[1]!)).toBeLessThan(-0.57);
    expect(correlationOf(results[1]!, results[2]!)).toBeGreaterThan(0.98);
  });

  it('take sums, means and ratios by what they share', () => {
    const { joint, results } = resultsOfH2();
    const [r, x] = [results[0]!, results[1]!];
    const sum = sumOfResults('sum', '1', [
      { result: r, coefficient: 2 },
      { result: x, coefficient: -3 },
    ]);
    const c = joint.covariance;
    expect(covarianceOf(sum, sum)).toAgreeWithin(4 * c[0]![0]! + 9 * c[1]![1]! - 12 * c[0]![1]!, 1e-9);
    expect(sum.estimate).toAgreeWithin(2 * r.estimate - 3 * x.estimate, 1e-12);
    // tan(phi) depends on phi alone, so only its uncertainty may be left: 1/cos² · u(phi).
    const tangent = ratioOfResults('tan', '1', x, r);
    expect(tangent.estimate).toAgreeWithin(Math.tan(1.04446), 1e-12);
    expect(standardUncertaintyOf(tangent)).toAgreeWithin(0.00075206 / Math.cos(1.04446) ** 2, 1e-9);
    const same = meanOfResults('mean', [r, r]);
    expect(standardUncertaintyOf(same)).toAgreeWithin(standardUncertaintyOf(r), 1e-12);
    expect(effectiveDegreesOfFreedomOf(r)).toAgreeWithin(4, 1e-12);
  });

  it('have the smallest degrees of freedom of a correlated group, whatever the order of its names', () => {
    const model = {
      title: 'sum',
      equations: [{ name: 'y', description: 'sum', unit: '1', expression: 'a + b', formula: 'a + b' }],
      outputs: ['y'],
    };
    for (const [ofA, ofB] of [
      [Infinity, 3],
      [3, Infinity],
    ] as const) {
      const inputs = [input('a', 1, 0.1, ofA), input('b', 1, 0.1, ofB)];
      const { outputs } = propagate(model, inputs, [{ first: 'a', second: 'b', coefficient: 0.5 }]);
      const result = resultFromInputs({
        ...{ name: 'y', unit: '1', estimate: 2, inputs, sensitivities: [1, 1], keys: ['a', 'b'] },
        correlations: [{ first: 0, second: 1, coefficient: 0.5 }],
      });
      expect(effectiveDegreesOfFreedomOf(result)).toAgreeWithin(3, 1e-12);
      expect(outputs[0]!.effectiveDegreesOfFreedom).toAgreeWithin(3, 1e-12);
    }
  });

  it('average what is their own and keep what they share', () => {
    const one = (own: string) =>
      resultFromInputs({
        name: own,
        unit: 'g',
        estimate: 10,
        inputs: [input('own', 0, 0.3, 9), input('common', 0, 0.4)],
        sensitivities: [1, 1],
        correlations: [],
        keys: [own, 'common'],
      });
    const four = ['a', 'b', 'c', 'd'].map(one);
    const mean = meanOfResults('mean', four);
    expect(standardUncertaintyOf(mean)).toAgreeWithin(Math.sqrt(0.3 ** 2 / 4 + 0.4 ** 2), 1e-12);
    expect(correlationOf(four[0]!, four[1]!)).toAgreeWithin(0.16 / 0.25, 1e-12);
    // Four sources of ν 9 each with 0.15²/4 … : u⁴ / Σ u_i⁴/ν.
    const u4 = (0.3 ** 2 / 4 + 0.4 ** 2) ** 2;
    expect(effectiveDegreesOfFreedomOf(mean)).toAgreeWithin(u4 / ((4 * (0.3 / 4) ** 4) / 9), 1e-10);
    expect([...covarianceMatrixOf([...four].reverse())].reverse().map((row) => [...row].reverse())).toEqual(
      covarianceMatrixOf(four),
    );
  });

  it('keep some of their parts where something observed stands for the others', () => {
    const parts = new Map([
      ['recurs', { value: 0.3, group: 'a', degreesOfFreedom: 5, variesWith: null }],
      ['anew', { value: 0.4, group: 'b', degreesOfFreedom: 7, variesWith: 'digestion' as const }],
    ]);
    const result = { name: 'w', unit: 'g', estimate: 10, parts };
    const kept = withSomeParts(result, (part) => part.variesWith === null);
    expect(standardUncertaintyOf(kept)).toAgreeWithin(0.3, 1e-12);
    expect(effectiveDegreesOfFreedomOf(kept)).toAgreeWithin(5, 1e-12);
    expect(standardUncertaintyOf(result)).toAgreeWithin(0.5, 1e-12);
  });

  it('refuse what cannot be added or divided', () => {
    const { results } = resultsOfH2();
    expect(() => sumOfResults('none', '1', [])).toThrow(InputError);
    expect(() => meanOfResults('mixed', [results[0]!, { ...results[1]!, unit: 'g' }])).toThrow(InputError);
    expect(() => ratioOfResults('by zero', '1', results[0]!, { ...results[1]!, estimate: 0 })).toThrow(
      InputError,
    );
    expect(() =>
      resultFromInputs({
        name: 'twice',
        unit: '1',
        estimate: 1,
        inputs: h2.inputs,
        sensitivities: [1, 1, 1],
        correlations: locateCorrelations(h2.inputs, h2.correlations),
        keys: ['V', 'V', 'phi'],
      }),
    ).toThrow(InputError);
  });
});
