import { describe, expect, it } from 'vitest';
import { exactJson } from '../../../src/report/exact-json.js';
import { compareMethods } from '../../../src/studies/measurement/compare-methods.js';
import {
  evaluateMeasurement,
  type Measurement,
  measurementOf,
} from '../../../src/studies/measurement/evaluate-measurement.js';
import type { BudgetFile } from '../../../src/uncertainty/budget-file/budget-file.js';
import type { InputQuantity } from '../../../src/uncertainty/input-quantity.js';
import { input } from '../../support/input.js';
import { model } from '../../support/model.js';
import { reference } from '../../support/reference.js';

const published = (name: string): Measurement =>
  measurementOf(reference<{ budget: BudgetFile }>(`uncertainty/${name}`).budget);

const only = async (measurement: Measurement, trials = 400_000) =>
  (await evaluateMeasurement(measurement, { simulation: { trials } })).outputs[0]!;

const t = (name: string, nu: number): InputQuantity =>
  input(name, 1, 1, { degreesOfFreedom: nu, distribution: { kind: 't' }, sourceKind: 'records' });

// JCGM 101:2008, clause 9, by its clause 8 with two digits of u (inputs and intervals remembered and recomputed).
describe('the methods, where JCGM 101:2008 compares them', () => {
  it.each(['jcgm101-922-normal', 'jcgm101-923-rectangular'])('agree in %s', async (name) => {
    const { comparison } = await only(published(name));
    expect(comparison!.outcome).toBe('agree');
    expect(comparison!.reasons).toEqual([]);
    expect(comparison!.agreement.tolerance).toBe(0.05);
  });

  it('differ where a rectangular quantity dominates (9.2.4)', async () => {
    const { comparison } = await only(published('jcgm101-924-dominant'));
    expect(comparison!.outcome).toBe('differ');
    expect(comparison!.statement).toContain('does not agree with the simulation. The simulation stands');
    expect(comparison!.reasons).toEqual([
      expect.stringContaining('x4 (rectangular) brings 97 % of the variance'),
    ]);
  });

  it('differ where first-order coefficients vanish (9.3)', async () => {
    const { comparison, secondOrder } = await only(published('jcgm101-93-mass'));
    expect(comparison!.outcome).toBe('differ');
    expect(secondOrder.matters).toBe(true);
    expect(comparison!.reasons).toEqual([
      expect.stringContaining('second-order terms make up 48 % of the variance'),
    ]);
  });

  it.each(['r00-000', 'r00-010', 'r00-050', 'r09-000', 'r09-010', 'r09-050'])(
    'differ for squares of correlated quantities (9.4, %s)',
    async (name) => {
      const { comparison, budget, reported } = await only(published(`jcgm101-94-loss-${name}`));
      expect(comparison!.outcome).toBe('differ');
      expect(comparison!.reasons[0]).toMatch(/^The model bends within the uncertainty of its inputs/);
      if (name.endsWith('-000')) expect([budget.standardUncertainty, reported]).toEqual([0, null]);
    },
  );
});

describe('evaluateMeasurement', () => {
  it('names few degrees of freedom as the reason, each by its distribution', async () => {
    const two = await only({ model: model({ y: 'a + b' }), inputs: [t('a', 4), t('b', 4)] });
    expect(two.comparison!.outcome).toBe('differ');
    expect(two.comparison!.reasons).toEqual([
      expect.stringContaining('a has 4 degrees of freedom and 50 % of the variance: the simulation draws'),
      expect.stringContaining('is 1.41 times the u'),
    ]);
    const normal = input('a', 1, 1, { degreesOfFreedom: 3 });
    const { comparison } = await only({ model: model({ y: 'a' }), inputs: [normal] });
    expect(comparison!.outcome).toBe('differ');
    expect(comparison!.reasons).toEqual([expect.stringContaining('takes the normal distribution as stated')]);
  });

  it('agrees for a t distribution alone, which the coverage factor follows', async () => {
    const { comparison } = await only({ model: model({ y: '2 * a' }), inputs: [t('a', 9)] });
    expect(comparison!.outcome).not.toBe('differ');
  });

  it('has quantiles where no standard deviation exists', async () => {
    const evaluation = await evaluateMeasurement(
      { model: model({ y: 'a + b' }), inputs: [t('a', 2), input('b', 1, 0.1)] },
      { simulation: { trials: 50_000 } },
    );
    expect(evaluation.outputs[0]!.simulated!.standardUncertainty).toBeNull();
    expect(evaluation.simulation!.covariance).toEqual([[null]]);
    expect(exactJson(evaluation, 'evaluation')).toContain('"standardUncertainty": null');
  });

  it('compares nothing where nothing is uncertain or simulated', async () => {
    const exact = { model: model({ y: 'a * 2' }), inputs: [input('a', 1, 0, { sourceKind: 'definition' })] };
    expect((await only(exact, 20_000)).comparison).toBeNull();
    const plain = await evaluateMeasurement(published('quam-a1-cadmium'), { simulation: null });
    expect([plain.simulation, plain.outputs[0]!.simulated]).toEqual([null, null]);
  });

  it('takes the verdict on a target from the simulation where that stands', async () => {
    const dominant = published('jcgm101-924-dominant');
    const { target } = await only({ ...dominant, targets: [{ output: 'y', expandedUncertainty: 18 }] });
    // U = 19.9 by the law of propagation, 17.0 by the exact convolution.
    expect(target).toMatchObject({ method: 'simulation', met: true });
    expect(target!.expandedUncertainty).toRoundTo('17');
  });

  it('refuses an output or a target that there is not', async () => {
    const measurement = published('quam-a1-cadmium');
    await expect(evaluateMeasurement(measurement, { output: 'x' })).rejects.toThrow(
      'output: found "x", expected one of c',
    );
    const targets = [{ output: 'x', expandedUncertainty: 1 }];
    await expect(evaluateMeasurement({ ...measurement, targets })).rejects.toThrow('target for "x"');
    const none = evaluateMeasurement(measurement, { simulation: { trials: 0 } });
    await expect(none).rejects.toThrow('trials: found 0, expected a whole number of at least');
  });

  it('is not changed by the order of the inputs', async () => {
    const measurement = published('quam-a3-hydrochloric-acid');
    const one = await only(measurement, 50_000);
    const other = await only({ ...measurement, inputs: [...measurement.inputs].reverse() }, 50_000);
    expect(other.simulated).toEqual(one.simulated);
    expect(other.budget.standardUncertainty).toAgreeWithin(one.budget.standardUncertainty, 1e-14);
  });
});

describe('compareMethods', () => {
  it('does not decide what the numerical error of the simulation leaves open', async () => {
    const { budget, secondOrder, simulated } = await only(published('jcgm101-922-normal'));
    const at = (low: number, error: number) =>
      compareMethods(
        budget,
        secondOrder,
        {
          ...simulated!,
          symmetric: { low, high: 3.92, coverage: 0.95 },
          numericalStandardErrors: { ...simulated!.numericalStandardErrors, symmetricLow: error },
        },
        2,
      );
    // δ = 0.05 about -3.92.
    expect(at(-3.86, 0.01).outcome).toBe('not decided');
    expect(at(-3.86, 0.01).statement).toContain('known to 0.020 only: this does not decide it');
    expect(at(-3.86, 0.001).outcome).toBe('differ');
    expect(at(-3.91, 0.001).outcome).toBe('agree');
    expect(at(-3.91, 0.04).statement).toContain('more trials would confirm it');
  });
});
