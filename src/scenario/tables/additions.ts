import type { AdditionRecord } from '../../records/tables/additions.js';
import { type Analyte, analyteNames, byAnalyte } from '../design/analytes.js';
import { nominal } from '../design/components.js';
import { drawNormal } from '../draw.js';
import type { HiddenErrors } from '../hidden-errors.js';
import type { PumpedSolution } from '../run-sequence.js';

/** Part of the sample solution in every solution of a series, and the additions in steps. */
const partOfSample = 0.8;
const steps = [0, 1, 2, 3, 4] as const;

/** Content of one step, mg/kg of the solution as read: the series stays within the calibration. */
const stepMgPerKg: Readonly<Record<Analyte, number>> = {
  Zr: 10,
  Si: 4,
  Pr: 25,
  Hf: 7,
  Al: 1.2,
  Fe: 1,
  Ti: 1,
  Ca: 0.6,
};

/** Day whose run reads the series, and the sample that they are made from. */
export const additionDay = 6;
export const additionSample = 'ZP-2';

function solutionName(base: string, step: number): string {
  return `SA-${base}-${step}`;
}

/** Solutions with additions from the stocks of the calibration: what such a series compares is the matrix alone. */
export function additionSolutions(
  seed: number,
  base: PumpedSolution,
  hidden: HiddenErrors,
): PumpedSolution[] {
  return steps.map((step): PumpedSolution => {
    const solution = solutionName(base.solution, step);
    return {
      ...base,
      solution,
      contentMgPerKg: byAnalyte((a) => {
        const prepared =
          1 + drawNormal(seed, nominal.preparationRelativeU, ['additions', `${solution}|${a}`, 'content']);
        const added = base.analytes.includes(a) ? step * stepMgPerKg[a] * hidden.stock[a] * prepared : 0;
        return partOfSample * base.contentMgPerKg[a] + added;
      }),
      nativeInternalStandard: partOfSample * base.nativeInternalStandard,
    };
  });
}

/** Rows of the table: every analyte read in each solution. */
export function additionRecords(bases: readonly PumpedSolution[]): AdditionRecord[] {
  return bases.flatMap((base) =>
    steps.flatMap((step) =>
      analyteNames
        .filter((a) => base.analytes.includes(a))
        .map((a): AdditionRecord => {
          const added = Number((step * stepMgPerKg[a]).toPrecision(4));
          return {
            solution: solutionName(base.solution, step),
            base: base.solution,
            analyte: a,
            added,
            standardUncertainty: Number((added * nominal.preparationRelativeU).toPrecision(3)),
          };
        }),
    ),
  );
}
