import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import type { InputQuantity } from '../../../src/uncertainty/input-quantity.js';
import {
  type Simulation,
  type SimulationOptions,
  simulate,
  simulateInThread,
} from '../../../src/uncertainty/simulation/simulate.js';
import { input } from '../../support/input.js';
import { model } from '../../support/model.js';

const rectangular = (name: string, estimate: number, halfWidth: number): InputQuantity =>
  input(name, estimate, halfWidth / Math.sqrt(3), { distribution: { kind: 'rectangular', halfWidth } });

const studentT = (name: string, estimate: number, scale: number, degreesOfFreedom: number): InputQuantity =>
  input(name, estimate, scale, { degreesOfFreedom, distribution: { kind: 't' } });

/** Two outputs of a normal pair, a t and a rectangular quantity. */
const bent = model({ y: '(a + b) * c / d', z: 'a * c - d' });
const inputs = [input('a', 10, 0.2), input('b', 4, 0.1), studentT('c', 2, 0.02, 7), rectangular('d', 5, 0.1)];
const correlations = [{ first: 'a', second: 'b', coefficient: -0.6 }];
const small = { seed: 20240117, trials: 20_000 } as const;

/** A simulated figure and its truth, in numerical standard errors. */
const errors = (found: number, truth: number, standardError: number): number =>
  Math.abs(found - truth) / standardError;

describe('a linear model by simulation', () => {
  const linear = model({ p: '2 * a - 3 * b + c', q: 'b + d' });
  const quantities = [
    input('a', 10, 0.2),
    input('b', 4, 0.1),
    studentT('c', 2, 0.02, 7),
    rectangular('d', 5, 0.3),
  ];
  const result = simulateInThread(linear, quantities, correlations, { seed: 1, trials: 400_000 });

  it('has the exact mean and variance, t distributions widened by √(ν/(ν − 2))', () => {
    const variances = [
      4 * 0.04 + 9 * 0.01 + 2 * 2 * -3 * (-0.6 * 0.2 * 0.1) + 0.0004 * (7 / 5),
      0.01 + 0.09 / 3,
    ];
    const means = [10, 9];
    result.outputs.forEach((output, o) => {
      const { estimate, standardUncertainty } = output.numericalStandardErrors;
      expect(errors(output.estimate, means[o]!, estimate)).toBeLessThan(4);
      expect(
        errors(output.standardUncertainty!, Math.sqrt(variances[o]!), standardUncertainty!),
      ).toBeLessThan(4);
    });
  });

  it('has the exact covariance of its outputs', () => {
    const exact = 2 * -0.6 * 0.2 * 0.1 - 3 * 0.01;
    const [p, q] = [result.covariance[0]![0]!, result.covariance[1]![1]!];
    const standardError = Math.sqrt((p * q + exact * exact) / result.trials);
    expect(errors(result.covariance[0]![1]!, exact, standardError)).toBeLessThan(4);
    expect(result.covariance[1]![0]).toBe(result.covariance[0]![1]);
  });
});

describe('the numbers drawn', () => {
  const reference = simulateInThread(bent, inputs, correlations, small);

  it('are the same for a promise and at once, and on a rerun', async () => {
    expect(await simulate(bent, inputs, correlations, small)).toEqual(reference);
    expect(simulateInThread(bent, inputs, correlations, small)).toEqual(reference);
  });

  it('do not depend on the order of inputs and correlations', () => {
    const turned = simulateInThread(
      bent,
      [...inputs].reverse(),
      [{ first: 'b', second: 'a', coefficient: -0.6 }],
      small,
    );
    expect(turned).toEqual(reference);
  });

  it('change with the seed', () => {
    const other = simulateInThread(bent, inputs, correlations, { ...small, seed: 2 });
    expect(other.outputs[0]!.estimate).not.toBe(reference.outputs[0]!.estimate);
  });

  it('are shared by two models that share inputs', () => {
    const alone = simulateInThread(
      model({ z: 'a * c - d' }),
      inputs.filter(({ name }) => name !== 'b'),
      [],
      small,
    );
    const both = simulateInThread(bent, inputs, [], small);
    expect(alone.outputs[0]).toEqual(both.outputs[1]);
  });
});

describe('bad input of a simulation', () => {
  const refuse = (options: Partial<SimulationOptions>): Simulation =>
    simulateInThread(bent, inputs, correlations, { ...small, ...options });

  it.each([
    [{ trials: 0 }, 'trials: found 0, expected a whole number of at least 2000'],
    [{ trials: 2500.5 }, 'trials: found 2500.5'],
    [{ trials: Number.NaN }, 'trials: found NaN'],
    [{ seed: -1 }, 'seed: found -1'],
    [{ seed: 0.5 }, 'seed: found 0.5'],
    [{ workers: 0 }, 'workers: found 0'],
    [{ coverageProbability: 1 }, 'coverage probability: found 1'],
    [{ bins: 0 }, 'bins: found 0'],
    [{ trials: 1e9 }, 'expected 100000000 trials at most (1600 MB)'],
  ] as [Partial<SimulationOptions>, string][])('is refused: %o', (options, words) => {
    expect(() => refuse(options)).toThrow(words);
    expect(() => refuse(options)).toThrow(InputError);
  });

  it('is refused where correlations cannot be, and where a divisor reaches 0', () => {
    const three = ['a', 'b', 'c'].map((name) => input(name, 1, 0.1));
    const pairs = [
      { first: 'a', second: 'b', coefficient: 0.9 },
      { first: 'b', second: 'c', coefficient: 0.9 },
      { first: 'a', second: 'c', coefficient: -0.9 },
    ];
    expect(() => simulateInThread(model({ y: 'a + b + c' }), three, pairs, small)).toThrow(
      'not positive semi-definite',
    );
    const ratio = model({ y: 'a / b' });
    expect(() => simulateInThread(ratio, [input('a', 1, 0.1), rectangular('b', 1, 1.5)], [], small)).toThrow(
      'its interval holds 0',
    );
  });

  it('is found where a trial has no finite result: output, trial and operation are named', () => {
    const root = model({ other: 'a + 1', y: 'sqrt(a)' });
    const run = () => simulateInThread(root, [input('a', 3, 1)], [], small);
    expect(run).toThrow(/output "y": trial \d+ of the simulation has the value NaN.*sqrt\(-/);
  });

  it('is found at the same trial by any number of threads', async () => {
    const root = model({ y: 'sqrt(a)' });
    const words = async (workers: number): Promise<string> => {
      const run = simulate(root, [input('a', 4.4, 1)], [], { seed: 3, trials: 1_000_000, workers });
      return run.then(
        () => 'no error',
        (error: Error) => error.message,
      );
    };
    const one = await words(1);
    expect(one).toContain('output "y": trial');
    expect(await words(3)).toBe(one);
  }, 60_000);
});
