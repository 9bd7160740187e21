import type { Budget, BudgetLine } from '../../uncertainty/budget.js';

/** The lines of one step of the measurement procedure, with what they add up to. */
export interface BudgetStep {
  readonly step: string;
  readonly lines: readonly BudgetLine[];
  /** Square root of the sum of squares of the contributions, in the unit of the output; covariances are left out. */
  readonly contribution: number;
  /** Sum of the shares of the output's variance, covariances included. */
  readonly share: number;
}

/**
 * The lines of a budget gathered by step, in the order in which the steps first appear.
 *
 * @param budget lines in any order
 * @returns one record a step; shares add to 1 over all steps
 * @see JCGM 100:2008 (GUM), 5.1 and 5.2 (contributions and their combination)
 * @example
 * budgetSteps({ output: 'w', description: '', unit: '', estimate: 1, standardUncertainty: 0, effectiveDegreesOfFreedom: 1, coverageProbability: 0.95, coverageFactor: 2, expandedUncertainty: 0, lines: [], notes: [] }).length // => 0
 */
export function budgetSteps(budget: Budget): BudgetStep[] {
  const names = [...new Set(budget.lines.map((line) => line.input.step))];
  return names.map((step) => {
    const lines = budget.lines.filter((line) => line.input.step === step);
    return {
      step,
      lines,
      contribution: Math.hypot(...lines.map((line) => line.contribution)),
      share: lines.reduce((sum, line) => sum + line.share, 0),
    };
  });
}
