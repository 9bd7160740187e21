import { describe, expect, it } from 'vitest';
import type { BudgetFile } from '../../../src/uncertainty/budget-file/budget-file.js';
import { inputsOfBudgetFile } from '../../../src/uncertainty/budget-file/inputs-of-budget-file.js';
import { evaluateProgram } from '../../../src/uncertainty/expression/evaluate-program.js';
import { compileModel } from '../../../src/uncertainty/model/compile-model.js';
import { simulateInThread } from '../../../src/uncertainty/simulation/simulate.js';
import { reference } from '../../support/reference.js';

const trials = 50_000;
const { budget } = reference<{ budget: BudgetFile }>('simulation/element-in-solid');
const { inputs, correlations } = inputsOfBudgetFile(budget);

function seconds(act: () => void): number {
  const start = process.cpuUsage();
  act();
  const { user, system } = process.cpuUsage(start);
  return (user + system) / 1e6;
}

/** The same model trial by trial, every input normal by Box and Muller, with a sort of all results. */
function plainly(): void {
  const { program } = compileModel(budget);
  const order = program.inputs.map((name) => inputs.find((input) => input.name === name)!);
  const values = new Float64Array(trials);
  const drawn = new Float64Array(order.length);
  for (let trial = 0; trial < trials; trial++) {
    order.forEach(({ estimate, standardUncertainty: u }, i) => {
      const z = Math.sqrt(-2 * Math.log(1 - Math.random())) * Math.cos(2 * Math.PI * Math.random());
      drawn[i] = estimate + u * z;
    });
    values[trial] = evaluateProgram(program, drawn)[program.results[0]!]!;
  }
  values.sort();
}

describe('the speed of simulation', () => {
  it('is at least 2.5 times that of a loop over trials in the same process', () => {
    const times = Array.from({ length: 4 }, (_, seed) => [
      seconds(() => simulateInThread(budget, inputs, correlations, { seed, trials })),
      seconds(plainly),
    ]);
    const best = (which: number): number => Math.min(...times.slice(1).map((pair) => pair[which]!));
    expect(best(1) / best(0)).toBeGreaterThan(2.5);
  });
});
