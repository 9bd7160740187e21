import { describe, expect, it } from 'vitest';
import { agreementOf } from '../../../src/uncertainty/agreement.js';
import type { BudgetFile } from '../../../src/uncertainty/budget-file/budget-file.js';
import { inputsOfBudgetFile } from '../../../src/uncertainty/budget-file/inputs-of-budget-file.js';
import { makeBudget } from '../../../src/uncertainty/make-budget.js';
import { propagate } from '../../../src/uncertainty/propagate.js';
import {
  type SimulatedOutput,
  type Simulation,
  simulateInThread,
} from '../../../src/uncertainty/simulation/simulate.js';
import { reference, referenceNames } from '../../support/reference.js';

type FigureName =
  | 'estimate'
  | 'standard uncertainty'
  | 'symmetric low'
  | 'symmetric high'
  | 'shortest low'
  | 'shortest high';

/** A published example of a simulation; its budget stands in the file or in the one named. */
interface PublishedSimulation {
  readonly budget?: BudgetFile;
  readonly budgetOf?: string;
  readonly trials: number;
  readonly coverageProbability: number;
  readonly interval: 'symmetric' | 'shortest';
  readonly agreesWithPropagation: boolean;
  /** Figures of one simulation scatter themselves. */
  readonly publishedFiguresAre: 'exact' | 'one simulation';
  readonly published: readonly { name: string; printed: string; figure: FigureName; multiplier?: number }[];
}

/** Figures of many trials, each with its standard error. */
interface ReferenceSimulation {
  readonly budget: BudgetFile;
  readonly reference: readonly { figure: FigureName; value: number; standardError: number }[];
}

function figuresOf(output: SimulatedOutput): Record<FigureName, { value: number; error: number }> {
  const error = output.numericalStandardErrors;
  return {
    estimate: { value: output.estimate, error: error.estimate },
    'standard uncertainty': { value: output.standardUncertainty!, error: error.standardUncertainty! },
    'symmetric low': { value: output.symmetric.low, error: error.symmetricLow },
    'symmetric high': { value: output.symmetric.high, error: error.symmetricHigh },
    'shortest low': { value: output.shortest.low, error: error.shortestLow },
    'shortest high': { value: output.shortest.high, error: error.shortestHigh },
  };
}

function simulated(
  budget: BudgetFile,
  trials: number,
  coverageProbability: number,
  seed: number,
): Simulation {
  const { inputs, correlations } = inputsOfBudgetFile(budget);
  return simulateInThread(budget, inputs, correlations, { seed, trials, coverageProbability });
}

/** Standard errors that a figure may be off: one in 16 000 is further, and seeds are fixed. */
const reach = 4;

const halfUnit = (printed: string): number => 0.5 * 10 ** -(printed.split('.')[1] ?? '').length;

const names = referenceNames('simulation').filter((name) => name.includes('jcgm101'));

describe.each(names)('%s (remembered and recomputed)', (name) => {
  const example = reference<PublishedSimulation>(name);
  const { trials, coverageProbability } = example;
  const budget = example.budget ?? reference<{ budget: BudgetFile }>(example.budgetOf!).budget;
  const output = simulated(budget, trials, coverageProbability, 2008).outputs.at(-1)!;
  const figures = figuresOf(output);
  const scatter = example.publishedFiguresAre === 'exact' ? 1 : Math.SQRT2;

  it.each(example.published)('$name: $printed', ({ printed, figure, multiplier = 1 }) => {
    const { value, error } = figures[figure];
    const allowed = halfUnit(printed) + reach * scatter * error * multiplier;
    expect(Math.abs(value * multiplier - Number(printed))).toBeLessThanOrEqual(allowed);
    // The allowance for chance is small beside the figure's meaning.
    expect(reach * error).toBeLessThan(0.1 * output.standardUncertainty!);
  });

  it(`${example.agreesWithPropagation ? 'agrees' : 'does not agree'} with the law of propagation`, () => {
    const { inputs, correlations } = inputsOfBudgetFile(budget);
    const byPropagation = makeBudget(
      propagate(budget, inputs, correlations),
      output.name,
      coverageProbability,
    );
    if (byPropagation.standardUncertainty === 0) {
      expect(output.standardUncertainty).toBeGreaterThan(0);
      return;
    }
    const agreement = agreementOf(byPropagation, output[example.interval]);
    expect(agreement.agrees, agreement.statement).toBe(example.agreesWithPropagation);
  });
});

describe('twenty inputs against a reference of 8e8 trials by another program', () => {
  const example = reference<ReferenceSimulation>('simulation/element-in-solid');

  it('agrees in every figure within 4 standard errors', () => {
    const found = figuresOf(simulated(example.budget, 1_000_000, 0.95, 1).outputs[0]!);
    for (const { figure, value, standardError } of example.reference) {
      const error = Math.hypot(found[figure].error, standardError);
      expect(Math.abs(found[figure].value - value), figure).toBeLessThan(reach * error);
    }
  });
});
