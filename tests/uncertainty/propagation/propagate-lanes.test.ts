import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { InputQuantity } from '../../../src/uncertainty/input-quantity.js';
import type { MeasurementModel } from '../../../src/uncertainty/measurement-model.js';
import { compileModel } from '../../../src/uncertainty/model/compile-model.js';
import { propagate } from '../../../src/uncertainty/propagate.js';
import {
  differentiateLanes,
  type Lane,
  LaneMemory,
  propagateLanes,
} from '../../../src/uncertainty/propagation/propagate-lanes.js';

const model: MeasurementModel = {
  title: 'all operations',
  equations: [
    { name: 's', description: '', unit: '1', expression: 'a * b - c / (d + 2)' },
    { name: 'y', description: '', unit: '1', expression: '(s + a + 9)^2.5 / 3 + exp(-c) - sqrt(d) * 1.5' },
  ],
  outputs: ['y'],
};
const names = ['a', 'b', 'c', 'd'] as const;

function input(name: string, estimate: number, standardUncertainty: number): InputQuantity {
  return {
    ...{ name, description: '', unit: '1', estimate, standardUncertainty },
    ...{ degreesOfFreedom: Number.POSITIVE_INFINITY, distribution: { kind: 'normal' }, evaluation: 'B' },
    ...{ sourceKind: 'records', source: '', step: '', withinPrecision: false },
  };
}

function valueAt(lane: Lane, point: number): number {
  return typeof lane === 'number' ? lane : lane[point % lane.length]!;
}

describe('propagateLanes', () => {
  const { program, outputEquations } = compileModel(model);
  const result = program.results[outputEquations[0]!]!;
  const value = fc.double({ min: 1, max: 9, noNaN: true });
  const point = fc.tuple(value, value, value, value);
  const u = fc.double({ min: 1e-3, max: 0.1, noNaN: true });

  it('gives at each point what propagate gives there', () => {
    const memory = new LaneMemory();
    fc.assert(
      fc.property(
        fc.array(point, { minLength: 1, maxLength: 9 }),
        fc.tuple(u, u, u),
        fc.double({ min: -0.9, max: 0.9, noNaN: true }),
        (points, [ua, ub, ud], coefficient) => {
          const us = { a: ua, b: ub, c: 0, d: ud };
          const place = (name: string) => program.inputs.indexOf(name);
          const lanes = propagateLanes(
            program,
            {
              lanes: points.length,
              estimates: program.inputs.map((name) =>
                Float64Array.from(points, (each) => each[names.indexOf(name as 'a')]!),
              ),
              standardUncertainties: program.inputs.map((name) =>
                name === 'b' ? new Float64Array(points.length).fill(ub) : us[name as 'a'],
              ),
              correlations: [{ first: place('a'), second: place('b'), coefficient }],
            },
            result,
            memory,
          );
          points.forEach((each, i) => {
            const inputs = names.map((name, k) => input(name, each[k]!, us[name]));
            const [one] = propagate(model, inputs, [{ first: 'a', second: 'b', coefficient }]).outputs;
            expect(lanes.estimates[i]).toBe(one!.estimate);
            expect(lanes.standardUncertainties[i]).toAgreeWithin(one!.standardUncertainty, 1e-12);
          });
        },
      ),
      { numRuns: 200 },
    );
  });

  it('takes numbers that hold for all points, and values that come again, as the same lists of values', () => {
    const place = (name: string) => program.inputs.indexOf(name);
    const all: Record<string, Lane> = {
      a: Float64Array.of(1, 2, 3, 4),
      b: Float64Array.of(5, 6),
      c: 2,
      d: 3,
    };
    const us: Record<string, Lane> = { a: Float64Array.of(0.1, 0.2), b: 0.3, c: 0.01, d: 0 };
    const r = Float64Array.of(0.5, -0.5);
    const ask = (lane: (lane: Lane) => Lane) =>
      propagateLanes(
        program,
        {
          lanes: 4,
          estimates: program.inputs.map((name) => lane(all[name]!)),
          standardUncertainties: program.inputs.map((name) => lane(us[name]!)),
          correlations: [{ first: place('a'), second: place('b'), coefficient: lane(r) }],
        },
        result,
        new LaneMemory(),
      );
    const found = ask((lane) => lane);
    expect(found).toEqual(ask((lane) => Float64Array.from({ length: 4 }, (_, i) => valueAt(lane, i))));
    for (let i = 0; i < 4; i++) {
      const inputs = names.map((name) => input(name, valueAt(all[name]!, i), valueAt(us[name]!, i)));
      const correlation = { first: 'a', second: 'b', coefficient: valueAt(r, i) };
      const [one] = propagate(model, inputs, [correlation]).outputs;
      expect(found.estimates[i]).toBe(one!.estimate);
      expect(found.standardUncertainties[i]).toAgreeWithin(one!.standardUncertainty, 1e-12);
    }
  });

  it('counts a term once for each time it enters a sum, and none that is exact', () => {
    // y = (a + b) + (a + b)·c − a, so that ∂y/∂a = c, ∂y/∂b = 1 + c and ∂y/∂c = a + b.
    const expression = '(a + b) + (a + b) * c - a';
    const sums = compileModel({
      title: 'sums',
      equations: [{ name: 'y', description: '', unit: '1', expression }],
      outputs: ['y'],
    });
    const ofInput = (values: Record<string, number>) => sums.program.inputs.map((name) => values[name]!);
    const { estimates, standardUncertainties } = propagateLanes(
      sums.program,
      {
        lanes: 2,
        estimates: ofInput({ a: 1, b: 4, c: 2 }),
        standardUncertainties: ofInput({ a: 0.3, b: 0.2, c: 0 }),
        correlations: [],
      },
      sums.program.results[sums.outputEquations[0]!]!,
      new LaneMemory(),
    );
    expect(estimates).toEqual(Float64Array.of(14, 14));
    // (2·0.3)² + (3·0.2)² = 0.72
    for (const u of standardUncertainties) expect(u).toAgreeWithin(Math.sqrt(0.72), 1e-15);
  });

  it('has derivatives by every input, also by those that are terms of one sum and those that do not enter', () => {
    // y = (a + b)·c and z = d: ∂y/∂a = ∂y/∂b = c, ∂y/∂c = a + b, ∂y/∂d = 0.
    const two = compileModel({
      title: 'two results',
      equations: [
        { name: 'y', description: '', unit: '1', expression: '(a + b) * c' },
        { name: 'z', description: '', unit: '1', expression: 'd' },
      ],
      outputs: ['y', 'z'],
    });
    const estimates = { a: 1, b: Float64Array.of(4, 5), c: Float64Array.of(2, 3), d: 7 };
    const { values, derivatives } = differentiateLanes(
      two.program,
      { lanes: 2, estimates: two.program.inputs.map((name) => estimates[name as 'a']) },
      two.program.results[two.outputEquations[0]!]!,
      new LaneMemory(),
    );
    const by = (name: string) => {
      const from = 2 * two.program.inputs.indexOf(name);
      return [...derivatives.subarray(from, from + 2)];
    };
    expect([...values]).toEqual([10, 18]);
    expect([by('a'), by('b'), by('c'), by('d')]).toEqual([
      [2, 3],
      [2, 3],
      [5, 6],
      [0, 0],
    ]);
  });

  it('asks for no derivative by an exact input', () => {
    // √d at 0 has no derivative by d.
    const { standardUncertainties } = propagateLanes(
      program,
      {
        lanes: 2,
        estimates: program.inputs.map((name) => (name === 'd' ? Float64Array.of(0, 1) : 1)),
        standardUncertainties: program.inputs.map((name) => (name === 'b' ? 0.1 : 0)),
        correlations: [],
      },
      result,
      new LaneMemory(),
    );
    // y = (a·b − c/(d + 2) + a + 9)^2.5 / 3 + …, with a = b = c = 1: ∂y/∂b = a · 2.5/3 · (11 − 1/(d + 2))^1.5.
    expect(standardUncertainties[0]).toAgreeWithin((0.1 * 2.5 * 10.5 ** 1.5) / 3, 1e-12);
    expect(standardUncertainties[1]).toAgreeWithin((0.1 * 2.5 * (11 - 1 / 3) ** 1.5) / 3, 1e-12);
  });

  it('refuses a point without a finite value and names it', () => {
    const at = (d: number) => ({
      lanes: 2,
      estimates: program.inputs.map((name) => (name === 'd' ? Float64Array.of(1, d) : 1)),
      standardUncertainties: program.inputs.map(() => 0.1),
      correlations: [],
    });
    expect(() => propagateLanes(program, at(-2), result, new LaneMemory())).toThrow('point 2');
    expect(() => propagateLanes(program, at(0), result, new LaneMemory())).toThrow(
      'point 2: the result has no finite derivative there',
    );
  });
});
