import type { SecondOrderEffect } from '../../studies/measurement/second-order-effect.js';
import type { Budget, BudgetLine } from '../../uncertainty/budget.js';

/** Below this part of u a contribution is the rounding of the computer. */
const nothing = 1e-12;

/**
 * Names of inputs that contribute nothing to an output: another equation's, exact ones, and those whose sensitivity
 * coefficient vanishes, unless second-order terms bring them back.
 */
export function silentInputs(budget: Budget, { matters, terms }: SecondOrderEffect): string[] {
  const kept = new Set(matters ? (terms?.pairs ?? []).flatMap(({ first, second }) => [first, second]) : []);
  const isSilent = ({ input, contribution }: BudgetLine): boolean =>
    contribution <= nothing * budget.standardUncertainty && !kept.has(input.name);
  // Where nothing contributes to first order, every input may be what matters.
  if (budget.standardUncertainty === 0) return [];
  return budget.lines.filter(isSilent).map(({ input }) => input.name);
}

/** The budget without the lines that contribute nothing; a note names them. */
export function withoutSilentLines(budget: Budget, secondOrder: SecondOrderEffect): Budget {
  const silent = silentInputs(budget, secondOrder);
  if (silent.length === 0) return budget;
  return {
    ...budget,
    lines: budget.lines.filter(({ input }) => !silent.includes(input.name)),
    notes: [...budget.notes, `Without contribution: ${silent.join(', ')}.`],
  };
}
