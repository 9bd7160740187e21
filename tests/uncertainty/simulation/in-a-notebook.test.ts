import { describe, expect, it } from 'vitest';
import { simulateInThread } from '../../../src/uncertainty/simulation/simulate.js';
import { input } from '../../support/input.js';
import { model } from '../../support/model.js';
import { notebookOf } from '../../support/notebook-of.js';
import { printed, runInTests } from '../../support/run-in-tests.js';

const ratio = model({ y: 'a * b / c' });
const inputs = ['a', 'b', 'c'].map((name) => input(name, 10, 0.2));
const correlations = [{ first: 'a', second: 'b', coefficient: -0.6 }];

describe('a simulation in a notebook', () => {
  it('uses threads there and gives the same figures', async () => {
    // JSON has no word for infinity.
    const stated = JSON.stringify(inputs).replaceAll(
      '"degreesOfFreedom":null',
      '"degreesOfFreedom":Infinity',
    );
    const source = notebookOf(
      "import { type InputQuantity, type MeasurementModel, simulate } from 'meltbook';",
      `const model: MeasurementModel = ${JSON.stringify(ratio)};`,
      `const inputs: InputQuantity[] = ${stated};`,
      'const options = { seed: 5, trials: 1_000_000, workers: 2 };',
      `const found = await simulate(model, inputs, ${JSON.stringify(correlations)}, options);`,
      'console.log(JSON.stringify(found));',
    );
    const { failure, notebook } = await runInTests(source);
    expect(failure).toBeUndefined();
    const expected = simulateInThread(ratio, inputs, correlations, { seed: 5, trials: 1_000_000 });
    expect(JSON.parse(printed(notebook, 6))).toEqual(expected);
  }, 180_000);
});
