import { InputError } from '../../errors.js';
import type { Budget } from '../budget.js';
import { makeBudget } from '../make-budget.js';
import { type Propagation, propagate } from '../propagate.js';
import type { BudgetFile } from './budget-file.js';
import { inputsOfBudgetFile } from './inputs-of-budget-file.js';

/** A target and whether the expanded uncertainty meets it. */
export interface TargetVerdict {
  readonly output: string;
  readonly expandedUncertainty: number;
  readonly target: number;
  readonly met: boolean;
}

/** Budgets of all outputs of a budget file. */
export interface BudgetFileResult {
  readonly propagation: Propagation;
  /** In the order of the outputs. */
  readonly budgets: readonly Budget[];
  /** One for each target stated. */
  readonly targets: readonly TargetVerdict[];
}

/**
 * Evaluates a budget file by the law of propagation.
 *
 * @param file what `decodeBudgetFile` made of the JSON
 * @throws InputError as `propagate`; a target for no output, an action on no input
 */
export function evaluateBudgetFile(file: BudgetFile): BudgetFileResult {
  const { inputs, correlations } = inputsOfBudgetFile(file);
  const model = { title: file.title, equations: file.equations, outputs: file.outputs };
  const propagation = propagate(model, inputs, correlations);
  const budgets = file.outputs.map((output) => makeBudget(propagation, output, file.coverageProbability));
  const targets = (file.targets ?? []).map(({ output, expandedUncertainty: target }): TargetVerdict => {
    const budget = budgets.find((candidate) => candidate.output === output);
    if (budget === undefined) throw new InputError(`target for "${output}", which is no output of the file`);
    const { expandedUncertainty } = budget;
    return { output, expandedUncertainty, target, met: expandedUncertainty <= target };
  });
  requireActionsOnInputs(file);
  return { propagation, budgets, targets };
}

function requireActionsOnInputs({ actions = [], inputs }: BudgetFile): void {
  const names = new Set(inputs.map(({ name }) => name));
  for (const { name, changes } of actions) {
    const stray = changes.find(({ input }) => !names.has(input));
    if (stray === undefined) continue;
    throw new InputError(
      `action "${name}": found input "${stray.input}", expected one of ${[...names].join(', ')}`,
    );
  }
}
