import type { ResultModel } from '../../chain/result-model.js';
import type { Budget } from '../../uncertainty/budget.js';
import type { InputQuantity } from '../../uncertainty/input-quantity.js';
import { makeBudget } from '../../uncertainty/make-budget.js';
import { propagate } from '../../uncertainty/propagate.js';
import { simulate } from '../../uncertainty/simulation/simulate.js';
import type { SimulatedOutput } from '../../uncertainty/simulation/simulation.js';
import { compareMethods, type MethodComparison } from '../measurement/compare-methods.js';
import { secondOrderEffect } from '../measurement/second-order-effect.js';

/** How the budgets are simulated. */
export interface ChainSimulation {
  /** Whole number of at least 0. */
  readonly seed: number;
  readonly trials: number;
}

/** One budget by the law of propagation and by simulation. */
export interface BudgetByBothMethods {
  readonly budget: Budget;
  readonly simulated: SimulatedOutput;
  readonly comparison: MethodComparison;
}

/** Digits of u that count in the comparison: those that are reported. */
const digits = 2;

/**
 * The budget of one result by the law of propagation and by a seeded simulation of the same model, compared.
 *
 * @see JCGM 101:2008, clause 8
 */
export async function compareWithSimulation(
  { model, inputs, correlations }: ResultModel,
  { seed, trials }: ChainSimulation,
): Promise<BudgetByBothMethods> {
  const propagation = propagate(model, inputs, correlations);
  const budget = makeBudget(propagation, 'w');
  const { outputs } = await simulate(model, inputs, correlations, { seed, trials });
  const simulated = outputs[0]!;
  const comparison = compareMethods(budget, secondOrderEffect(propagation, budget), simulated, digits);
  return { budget, simulated, comparison };
}

/**
 * The same model with every standard uncertainty taken as known: what is left of a disagreement then comes from the model
 * or from the shape of inputs, not from limited degrees of freedom.
 */
export function withKnownUncertainties(result: ResultModel): ResultModel {
  return { ...result, inputs: result.inputs.map(known) };
}

function known(input: InputQuantity): InputQuantity {
  const distribution = input.distribution.kind === 't' ? { kind: 'normal' as const } : input.distribution;
  return { ...input, degreesOfFreedom: Number.POSITIVE_INFINITY, distribution };
}
