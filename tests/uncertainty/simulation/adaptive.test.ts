import { describe, expect, it } from 'vitest';
import { standardDeviation } from '../../../src/statistics/descriptive/standard-deviation.js';
import type { BudgetFile } from '../../../src/uncertainty/budget-file/budget-file.js';
import { inputsOfBudgetFile } from '../../../src/uncertainty/budget-file/inputs-of-budget-file.js';
import { randomStream } from '../../../src/uncertainty/random-stream.js';
import { largestEigenvalue } from '../../../src/uncertainty/simulation/largest-eigenvalue.js';
import {
  control,
  makeBuffers,
  type RunPlan,
  storeIn,
} from '../../../src/uncertainty/simulation/run-store.js';
import {
  type AdaptiveOptions,
  type Simulation,
  simulateInThread,
} from '../../../src/uncertainty/simulation/simulate.js';
import { StabilityJudge, trialsPerSequence } from '../../../src/uncertainty/simulation/stability.js';
import { input } from '../../support/input.js';
import { model } from '../../support/model.js';
import { reference } from '../../support/reference.js';

const { budget } = reference<{ budget: BudgetFile }>('simulation/element-in-solid');
const { inputs, correlations } = inputsOfBudgetFile(budget);
const run = (adaptive: AdaptiveOptions, seed = 1): Simulation =>
  simulateInThread(budget, inputs, correlations, { seed, adaptive });

describe('an adaptive simulation', () => {
  // Bounds: trials that five runs of another program took (u is 1.0010, so that δ is 0.05 for two digits), doubled.
  it.each([
    [{ digits: 1, interval: 'symmetric' }, 20_000, 20_000],
    [{ digits: 2, interval: 'symmetric' }, 20_000, 80_000],
    [{ digits: 2, interval: 'shortest' }, 20_000, 200_000],
  ] as [AdaptiveOptions, number, number][])('stops when it is stable: %o', (adaptive, least, most) => {
    for (const seed of [1, 2, 3]) {
      const { stopped, trials, notes } = run(adaptive, seed);
      expect(stopped).toBe('stable');
      expect(trials).toBeGreaterThanOrEqual(least);
      expect(trials).toBeLessThanOrEqual(most);
      expect(notes[0]).toContain(`after ${trials} trials`);
    }
  });

  it('has the figures of a fixed run of as many trials', () => {
    const stable = run({ digits: 2, interval: 'symmetric' });
    const fixed = simulateInThread(budget, inputs, correlations, { seed: 1, trials: stable.trials });
    expect(stable.outputs).toEqual(fixed.outputs);
    expect(stable.covariance).toEqual(fixed.covariance);
  });

  it('stops at the cap and says so', () => {
    const { stopped, trials, notes } = run({ digits: 3, interval: 'shortest', cap: 105_000 });
    expect(stopped).toBe('cap');
    expect(trials).toBe(100_000);
    expect(notes[0]).toContain('the cap of 100000 trials was reached before all figures were stable to 3');
  });

  it('is refused without a standard uncertainty to be stable, without room, and beside a fixed number', () => {
    const one = [input('x', 1, 0.1, { degreesOfFreedom: 2, distribution: { kind: 't' } })];
    const adaptive = { digits: 2, interval: 'symmetric' } as const;
    expect(() => simulateInThread(model({ y: 'x' }), one, [], { seed: 1, adaptive })).toThrow(
      'output "y" of an adaptive simulation: no standard uncertainty exists',
    );
    expect(() => run({ ...adaptive, interval: 'widest' as 'shortest' })).toThrow('found "widest"');
    expect(() => run({ ...adaptive, cap: 10_000 })).toThrow('cap of the trials: found 10000');
    expect(() =>
      simulateInThread(budget, inputs, correlations, { seed: 1, trials: 50_000, adaptive }),
    ).toThrow('expected one of the two');
  });

  it('takes sequences of 10⁴ trials, longer ones for a high coverage probability (JCGM 101:2008, 7.9.4)', () => {
    expect(trialsPerSequence(0.95)).toBe(10_000);
    expect(trialsPerSequence(0.99)).toBe(10_000);
    expect(trialsPerSequence(0.999)).toBe(100_000);
  });

  it('of an exact quantity is stable at once', () => {
    const exact = [input('x', 1, 0, { sourceKind: 'definition' })];
    const result = simulateInThread(model({ y: '2 * x' }), exact, [], {
      seed: 1,
      adaptive: { digits: 2, interval: 'symmetric' },
    });
    expect([result.stopped, result.trials]).toEqual(['stable', 20_000]);
    expect(result.outputs[0]).toMatchObject({
      estimate: 2,
      standardUncertainty: 0,
      symmetric: { low: 2, high: 2 },
    });
  });
});

describe('an adaptive simulation of many outputs', () => {
  const names = Array.from({ length: 30 }, (_, i) => `y${i}`);
  const many = model(Object.fromEntries(names.map((name, i) => [name, `a + ${i} * b`])));
  const pair = [input('a', 1, 0.1), input('b', 2, 0.1)];
  const adaptive = { digits: 1, interval: 'symmetric' } as const;

  it('lowers the cap so that the trials fit into memory; a cap that does not fit is refused', () => {
    const planned: number[] = [];
    const onProgress = (_done: number, of: number): number => planned.push(of);
    const result = simulateInThread(many, pair, [], { seed: 1, adaptive, onProgress });
    expect(result.stopped).toBe('stable');
    expect(planned.at(-1)).toBe(6_660_000);
    const beyond = { seed: 1, adaptive: { ...adaptive, cap: 10_000_000 } };
    expect(() => simulateInThread(many, pair, [], beyond)).toThrow(
      'found 10000000 trials of 30 output(s), which take 2400 MB; expected 6666666 trials at most (1600 MB)',
    );
  });
});

describe('the judge of stability', () => {
  it('stops at the first sequence at which the rule of JCGM 101:2008, 7.9.4, is met', () => {
    const plan: RunPlan = {
      outputs: 1,
      trials: 400 * 10_000,
      blocksPerUnit: 5,
      coverageProbability: 0.95,
      interval: 'symmetric',
    };
    const stream = randomStream(9, 'figures');
    const store = storeIn(makeBuffers(plan, new SharedArrayBuffer(8 * plan.trials)), plan);
    const [centre, scatter] = [
      [5, 1, 3, 7],
      [0.01, 0.007, 0.03, 0.04],
    ];
    const columns = centre.map((value, k) =>
      Array.from({ length: 400 }, () => value + scatter[k]! * stream.normal()),
    );
    columns.forEach((column, k) => {
      column.forEach((value, sequence) => {
        store.figures[4 * sequence + k] = value;
      });
    });
    store.done.fill(1);
    const judge = new StabilityJudge(plan, store, 3);
    judge.advance();
    // δ for three digits of u ≈ 1 is 0.005, and for u just below 1 it is 0.0005.
    let h = 2;
    const isMet = (): boolean => {
      const ys = columns[0]!.slice(0, h);
      const mean = ys.reduce((sum, y) => sum + y, 0) / h;
      const variance =
        columns[1]!.slice(0, h).reduce((sum, u) => sum + u * u, 0) / h +
        ys.reduce((sum, y) => sum + (y - mean) ** 2, 0) / h;
      const tolerance = Math.sqrt(variance) >= 0.9995 ? 0.005 : 0.0005;
      return columns.every(
        (column) => (2 * standardDeviation(column.slice(0, h))) / Math.sqrt(h) <= tolerance,
      );
    };
    while (!isMet()) h++;
    expect(judge.isStable).toBe(true);
    expect(judge.trials).toBe(h * 10_000);
    expect(store.control[control.end]).toBe(h);
  });
});

describe('the largest eigenvalue', () => {
  it('is that of matrices with known ones', () => {
    expect(largestEigenvalue([[1]])).toBe(1);
    expect(
      largestEigenvalue([
        [1, -0.8],
        [-0.8, 1],
      ]),
    ).toAgreeWithin(1.8, 1e-14);
    // Equal correlations r of n quantities: 1 + (n − 1)·r.
    const equal = Array.from({ length: 12 }, (_, i) =>
      Array.from({ length: 12 }, (_c, j) => (i === j ? 1 : 0.3)),
    );
    expect(largestEigenvalue(equal)).toAgreeWithin(1 + 11 * 0.3, 1e-13);
    // Second differences of n points: 2 + 2·cos(π/(n + 1)).
    const differences = Array.from({ length: 9 }, (_, i) =>
      Array.from({ length: 9 }, (_c, j) => (i === j ? 2 : Math.abs(i - j) === 1 ? -1 : 0)),
    );
    expect(largestEigenvalue(differences)).toAgreeWithin(2 + 2 * Math.cos(Math.PI / 10), 1e-13);
  });
});
