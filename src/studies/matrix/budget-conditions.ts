import type { Budget } from '../../uncertainty/budget.js';
import type { Finding } from '../../validation/finding.js';

/** By analyte and budget: what a *met* target uncertainty rests on that is itself open, each as a sentence. */
export type BudgetConditions = (analyte: string, budget: Budget) => readonly string[];

/**
 * Conditions from the findings on the inputs of a budget: a blank that is not shown, a crucible memory or a change of solutions
 * that the budget does not hold. They change no verdict.
 *
 * @param findings of procedure blank, crucible memory and solution stability
 */
export function budgetConditions(findings: readonly Finding[]): BudgetConditions {
  const open = (characteristic: string, analyte: string) =>
    findings.filter(
      (f) =>
        f.characteristic === characteristic &&
        f.analyte === analyte &&
        (f.verdict === 'not met' || f.verdict === 'not shown'),
    );
  return (analyte, budget) => [
    ...open('procedure blank', analyte).map(
      ({ verdict, n }) =>
        `the procedure blank of ${analyte} is ${verdict}, and ${blankShare(budget)} % of the variance of this budget comes from the blank (${n} digestions and what is stated of the flux lot); it holds once enough blanks confirm them`,
    ),
    ...open('crucible memory', analyte).map(
      ({ level, verdict }) =>
        `the crucible memory of ${analyte} (after ${level}) is ${verdict}, and the budget holds no part for it; it holds for digestions that do not follow a sample with more ${analyte} in the same crucible`,
    ),
    ...open('solution stability', analyte).map(
      ({ verdict, estimate }) =>
        `the stability of ${analyte} in solution is ${verdict}, and the budget holds no part for it; ${(estimate ?? 0) > 0 ? `it holds for solutions read within ${estimate} h` : 'no time to reading is shown for which it holds'}`,
    ),
  ];
}

function blankShare({ lines }: Budget): number {
  const share = lines
    .filter(({ input }) => input.step === 'blank')
    .reduce((sum, line) => sum + line.share, 0);
  return Math.round(100 * share);
}
