import type { StudyPlan } from '../study.js';

/** Solutions that the plan names: read in runs without being a digestion, dilution, addition or standard. */
export function planSolutions(plan: StudyPlan): string[] {
  return [
    plan.driftCheckSolution,
    plan.interferenceCheck?.solution,
    plan.secondSource?.solution,
    plan.carryOver?.solution,
  ].flatMap((solution) => solution ?? []);
}
