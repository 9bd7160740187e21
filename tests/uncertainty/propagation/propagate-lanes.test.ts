import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { InputQuantity } from '../../../src/uncertainty/input-quantity.js';
import type { MeasurementModel } from '../../../src/uncertainty/measurement-model.js';
import { compileModel } from '../../../src/uncertainty/model/compile-model.js';
import { propagate } from '../../../src/uncertainty/propagate.js';
import { LaneMemory, propagateLanes } from '../../../src/uncertainty/propagation/propagate-lanes.js';

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
