import type { Budget } from './budget.js';
import type { InputQuantity } from './input-quantity.js';

/** Lines of a budget that have one step, piece of equipment or kind of source in common. */
export interface BudgetGroup {
  readonly name: string;
  /** Share of the output's variance; shares of all groups add to 1, and one may be negative. */
  readonly share: number;
  /** u·√share in the unit of the output; 0 for a negative share. */
  readonly contribution: number;
  /** Names of the inputs, in the order of the budget. */
  readonly inputs: readonly string[];
}

/**
 * Budget gathered by the step of the procedure, by equipment or by kind of source, in order of first appearance.
 */
export function groupBudget(budget: Budget, by: 'step' | 'equipment' | 'sourceKind'): BudgetGroup[] {
  const groups = new Map<string, { share: number; inputs: string[] }>();
  for (const { input, share } of budget.lines) {
    const name = nameOf(input, by);
    const group = groups.get(name) ?? { share: 0, inputs: [] };
    group.share += share;
    group.inputs.push(input.name);
    groups.set(name, group);
  }
  return [...groups].map(([name, { share, inputs }]) => ({
    name,
    share,
    contribution: budget.standardUncertainty * Math.sqrt(Math.max(0, share)),
    inputs,
  }));
}

function nameOf(input: InputQuantity, by: 'step' | 'equipment' | 'sourceKind'): string {
  return by === 'equipment' ? (input.equipment ?? 'no equipment') : input[by];
}
