import { routeFactor } from '../../chain/counting-route.js';
import type { StudyPlan } from '../../records/study.js';
import type { InputQuantity } from '../../uncertainty/input-quantity.js';
import { propagate } from '../../uncertainty/propagate.js';
import {
  type ImprovementAction,
  type InputChange,
  type WhatWouldItTake,
  whatWouldItTake,
} from '../../uncertainty/what-would-it-take.js';
import type { LevelBudget } from '../matrix/budget-study.js';
import type { LevelPrecision } from '../matrix/precision-study.js';

/** What it would take to make the result of the hardest analyte less uncertain. */
export interface ChainImprovement {
  readonly analyte: string;
  readonly level: string;
  readonly unit: string;
  readonly estimate: number;
  /** Target of the plan, % of the result; null where none is set. */
  readonly targetPercent: number | null;
  /** `target`: the plan's is not reached. `half`: it is reached or not set, and the aim is half of today's U. */
  readonly aim: 'target' | 'half';
  readonly found: WhatWouldItTake;
}

/**
 * What it would take for the analyte and level nearest to the target uncertainty, or beyond it: more digestions, days,
 * readings, standards or blanks, another balance or stock. Analytes with a bias that no budget holds are passed over.
 *
 * @returns null where every budget leaves out something that was found
 */
export function chainImprovement(
  plan: StudyPlan,
  budgets: readonly LevelBudget[],
  precisions: readonly LevelPrecision[],
): ChainImprovement | null {
  const sound = budgets.filter((b) => b.outsideBudget === null);
  if (sound.length === 0) return null;
  const withTarget = sound.filter((b) => b.targetPercent !== null);
  const hardest = (withTarget.length > 0 ? withTarget : sound).reduce((a, b) =>
    demand(b) > demand(a) ? b : a,
  );
  const { analyte, level, unit, components, targetPercent } = hardest;
  const allowed =
    targetPercent === null ? Number.POSITIVE_INFINITY : (targetPercent / 100) * Math.abs(components.estimate);
  const aim = components.expandedUncertainty > allowed ? 'target' : 'half';
  const goal = aim === 'target' ? allowed : components.expandedUncertainty / 2;
  const { model, inputs, correlations } = hardest.models.components;
  const precision = precisions.find((p) => p.analyte === analyte && p.level === level)!;
  const found = whatWouldItTake(
    propagate(model, inputs, correlations),
    'w',
    goal,
    actionsFor(plan, hardest, precision),
  );
  return { analyte, level, unit, estimate: components.estimate, targetPercent, aim, found };
}

function demand({ components, targetPercent }: LevelBudget): number {
  return components.expandedUncertainty / Math.abs(components.estimate) / (targetPercent ?? 1);
}

function actionsFor(plan: StudyPlan, level: LevelBudget, precision: LevelPrecision): ImprovementAction[] {
  const { digestions, readings } = plan.resultRule;
  const { inputs } = level.models.components;
  const every = (factor: number, chosen: (input: InputQuantity) => boolean): InputChange[] =>
    inputs.filter((i) => i.standardUncertainty > 0 && chosen(i)).map((i) => ({ input: i.name, factor }));
  const isUnexplained = (i: InputQuantity) => i.name === routeFactor.components;
  const root = Math.SQRT1_2;
  const balances = [...new Set(inputs.filter((i) => ofBalance(i)).map((i) => i.equipment!))];
  const actions: ImprovementAction[] = [
    {
      name: `${2 * digestions} digestions of one day in place of ${digestions}`,
      changes: [
        ...every(root, (i) => i.variesWith === 'digestion'),
        ...every(unexplainedAfterMoreDigestions(level, precision), isUnexplained),
      ],
    },
    {
      name: `the mean of two days, ${digestions} digestion(s) each`,
      changes: every(root, (i) => i.variesWith !== undefined || isUnexplained(i)),
    },
    {
      name: `${2 * readings} readings of each solution in place of ${readings}`,
      changes: every(root, (i) => i.name.startsWith('ratio_')),
    },
    {
      name: 'twice as many calibration standards in a run',
      // Those of other runs, by their blanks, too.
      changes: every(root, (i) => i.jointSource?.startsWith('calibration ') === true),
    },
    { name: 'stock standards of half the uncertainty', changes: every(0.5, (i) => i.step === 'standards') },
    ...balances.map((id) => ({
      name: `a balance of half the uncertainty in place of ${id}`,
      changes: every(0.5, (i) => ofBalance(i) && i.equipment === id),
    })),
    {
      name: 'twice as many procedure blanks',
      changes: blankChanges(inputs),
    },
  ];
  return actions.filter(({ changes }) => changes.length > 0);
}

/** n blanks leave ν = n − 1, twice as many 2ν + 1: for their mean, and for what a single blank scatters about it. */
function blankChanges(inputs: readonly InputQuantity[]): InputChange[] {
  return inputs
    .filter((i) => i.jointSource?.startsWith('procedure blanks ') === true && i.standardUncertainty > 0)
    .map((i) => ({
      input: i.name,
      factor: i.variesWith === undefined ? Math.SQRT1_2 : 1,
      degreesOfFreedom: 2 * i.degreesOfFreedom + 1,
    }));
}

function ofBalance({ step, equipment }: InputQuantity): boolean {
  return equipment !== undefined && ['weighing', 'dissolution', 'dilution'].includes(step);
}

/**
 * Factor on the unexplained variation when digestions of one day double: the observed variance within the day is halved,
 * that between days stays, and so does the predicted part that the digestions share.
 */
function unexplainedAfterMoreDigestions(level: LevelBudget, { precision }: LevelPrecision): number {
  const { scatter, components, models } = level;
  if (scatter.unexplained === 0) return 1;
  const within = (precision.withinDay.value / precision.components.mean) ** 2;
  const anew = models.components.inputs
    .filter((i) => i.variesWith === 'digestion')
    .reduce((sum, { name }) => {
      const line = components.lines.find(({ input }) => input.name === name)!;
      return sum + (line.contribution / components.estimate) ** 2;
    }, 0);
  // Halving takes away half of what was observed within days, of which the components explain half of `anew`.
  const after = scatter.unexplained ** 2 - within / 2 + anew / 2;
  return Math.sqrt(Math.max(0, after)) / scatter.unexplained;
}
