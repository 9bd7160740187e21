import { InputError } from '../../errors.js';
import type { PlanningRecord } from '../../records/planning.js';
import type { StudyPlan } from '../../records/study.js';
import { costOfPlan, type PlanCost, type PlanWork } from '../../validation/planning/cost-of-plan.js';
import { precisionDesign } from '../../validation/planning/precision-design.js';
import { smallestNumber } from '../../validation/smallest-number.js';
import { plannedAims, type UnplannedCriterion } from './planned-aims.js';
import { type PlannedAim, type PlannedNumbers, powerOf } from './planned-criterion.js';

/** One criterion: what it needs by itself, and the probability with which the whole plan shows it. */
export interface PlannedPower extends PlannedAim {
  readonly ratio: number;
  /** Fewest days × digestions, additions or blanks that show it with the wanted probability; null where none within the bounds do. */
  readonly needs: string | null;
  readonly power: number;
}

/** A proposal for the size of a validation, with what it costs and what it will not show. */
export interface ValidationPlan {
  readonly plan: StudyPlan;
  readonly planning: PlanningRecord;
  readonly numbers: PlannedNumbers;
  readonly work: PlanWork;
  readonly cost: PlanCost;
  readonly criteria: readonly PlannedPower[];
  /** Criteria that no numbers within the bounds show with the wanted probability. */
  readonly outOfReach: readonly PlannedPower[];
  readonly unplanned: readonly UnplannedCriterion[];
  /** How the hardest criterion for intermediate precision depends on days and digestions; empty where there is none. */
  readonly powerByDays: readonly PowerCurve[];
  /** Probability that every criterion of the plan is shown: at least this, by Bonferroni's inequality. */
  readonly allShownAtLeast: number;
}

/** Probability that the hardest criterion is shown, over the number of days. */
export interface PowerCurve {
  readonly analyte: string;
  readonly level: string;
  readonly digestionsPerDay: number;
  readonly points: readonly { readonly days: number; readonly power: number }[];
}

const least = { days: 5, blanks: 6, spikes: 3 } as const;
const most = { blanks: 200, spikes: 60 } as const;

/**
 * The smallest validation that shows each criterion with the wanted probability: days × digestions × blanks × additions, and their cost.
 *
 * @throws InputError a plan without expectations, or without a criterion that can be planned
 * @see ISO/IEC 17025:2017, 7.2.2.1; Eurachem, Fitness for Purpose 2014 (planning validation; clause not cited)
 */
export function planValidation(plan: StudyPlan): ValidationPlan {
  const { planning } = plan;
  if (planning === undefined) {
    throw new InputError(
      'study.json: found no key "planning", expected one with the scatter that is expected of each analyte and the work a day allows (the guide of the study names its keys)',
    );
  }
  const { aims, unplanned } = plannedAims(plan, planning);
  if (aims.length === 0) throw new InputError('study.json: found no criterion that can be planned');
  const needs = aims.map((aim) => ({ aim, needs: numbersFor([aim], plan, planning) }));
  const reachable = needs.flatMap((n) => (n.needs === null ? [] : [n.aim]));
  const numbers = numbersFor(reachable, plan, planning) ?? {
    days: planning.mostDays,
    digestionsPerDay: planning.mostDigestionsPerDayAndLevel,
    blanks: least.blanks,
    spikes: 0,
  };
  const criteria = needs.map(
    ({ aim, needs: own }): PlannedPower => ({
      ...aim,
      ratio: aim.allowed / aim.expected,
      needs: own === null ? null : inWords(aim, own),
      power: powerOf(aim.aim, numbers, plan.resultRule.digestions),
    }),
  );
  const work = workOf(plan, planning, numbers);
  return {
    plan,
    planning,
    numbers,
    work,
    cost: costOfPlan(work),
    criteria,
    outOfReach: criteria.filter((c) => c.needs === null),
    unplanned,
    powerByDays: curves(criteria, plan, planning),
    allShownAtLeast: Math.max(0, 1 - criteria.reduce((sum, c) => sum + (1 - c.power), 0)),
  };
}

/** Fewest numbers that show all of the aims; null where none within the bounds do. */
function numbersFor(
  aims: readonly PlannedAim[],
  plan: StudyPlan,
  planning: PlanningRecord,
): PlannedNumbers | null {
  const perResult = plan.resultRule.digestions;
  const wishes = aims.flatMap(({ aim }) => (aim.kind === 'precision' ? [aim.wish] : []));
  const smallest = { days: least.days, digestionsPerDay: Math.max(2, perResult) };
  const design =
    wishes.length === 0
      ? smallest
      : precisionDesign(wishes, {
          power: planning.power,
          digestionsPerResult: perResult,
          mostDays: planning.mostDays,
          mostDigestionsPerDay: Math.max(smallest.digestionsPerDay, planning.mostDigestionsPerDayAndLevel),
        });
  if (design === null) return null;
  const fewest = (from: number, to: number, of: readonly PlannedAim[], put: (n: number) => PlannedNumbers) =>
    smallestNumber(from, to, (n) => of.every(({ aim }) => powerOf(aim, put(n), perResult) >= planning.power));
  const of = (kind: string) =>
    aims.filter(({ aim }) => (aim.kind === 'mean' ? aim.counts : aim.kind) === kind);
  const base = { ...design, blanks: least.blanks, spikes: least.spikes };
  const days = fewest(design.days, planning.mostDays, [...of('days'), ...of('runs')], (n) => ({
    ...base,
    days: n,
  }));
  const blanks = fewest(least.blanks, most.blanks, of('blanks'), (n) => ({ ...base, blanks: n }));
  const spiked = of('spikes');
  const spikes =
    spiked.length === 0 ? 0 : fewest(least.spikes, most.spikes, spiked, (n) => ({ ...base, spikes: n }));
  if (days === null || blanks === null || spikes === null) return null;
  return { ...design, days, blanks, spikes };
}

function curves(criteria: readonly PlannedPower[], plan: StudyPlan, planning: PlanningRecord): PowerCurve[] {
  const hardest = criteria
    .filter((c) => c.characteristic === 'intermediate precision')
    .sort((a, b) => a.power - b.power)[0];
  if (hardest === undefined) return [];
  const { analyte, level, aim } = hardest;
  const perResult = plan.resultRule.digestions;
  const from = Math.max(2, perResult);
  const kinds = Math.max(1, planning.mostDigestionsPerDayAndLevel - from + 1);
  return Array.from({ length: kinds }, (_, i) => {
    const digestionsPerDay = from + i;
    const points = Array.from({ length: planning.mostDays - least.days + 1 }, (__, j) => {
      const days = least.days + j;
      const power = powerOf(
        aim,
        { days, digestionsPerDay, blanks: least.blanks, spikes: least.spikes },
        perResult,
      );
      return { days, power };
    });
    return { analyte, level, digestionsPerDay, points };
  });
}

function inWords({ aim }: PlannedAim, numbers: PlannedNumbers): string {
  if (aim.kind === 'precision') return `${numbers.days} days × ${numbers.digestionsPerDay} digestions`;
  if (aim.kind === 'blanks') return `${numbers.blanks} procedure blanks in as many runs`;
  if (aim.counts === 'spikes') return `${numbers.spikes} additions`;
  return aim.counts === 'runs' ? `${numbers.days} calibrated runs` : `${numbers.days} days`;
}

function workOf(plan: StudyPlan, planning: PlanningRecord, numbers: PlannedNumbers): PlanWork {
  return {
    days: numbers.days,
    levels: plan.levels.length,
    digestionsPerDay: numbers.digestionsPerDay,
    referenceDigestions: planning.referenceMaterials * numbers.days * plan.resultRule.digestions,
    spikes: 2 * numbers.spikes,
    blanks: numbers.blanks,
    otherDigestions: planning.otherDigestions,
    readingsPerDigestion: plan.resultRule.readings,
    minutesPerFusion: planning.minutesPerFusion,
    cruciblesAtOnce: planning.cruciblesAtOnce,
    digestionsADay: planning.digestionsADay,
  };
}
