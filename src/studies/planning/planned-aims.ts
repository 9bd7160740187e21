import type { Expectation, PlanningRecord } from '../../records/planning.js';
import type { AnalyteScope, StudyPlan } from '../../records/study.js';
import type { Characteristic } from '../../validation/characteristic.js';
import type { Criterion } from '../../validation/finding.js';
import type { MeanPlan } from '../../validation/planning/power-for-mean.js';
import { criterionFor } from '../matrix/matrix-context.js';
import type { PlannedAim } from './planned-criterion.js';

/** A criterion of the plan that its expectations do not reach: named, never silently left out. */
export interface UnplannedCriterion {
  readonly characteristic: string;
  readonly analyte: string;
  readonly level: string;
  readonly reason: string;
}

/** Every criterion whose number of days, digestions, additions or blanks can be planned, and those whose can not. */
export function plannedAims(
  plan: StudyPlan,
  planning: PlanningRecord,
): { readonly aims: readonly PlannedAim[]; readonly unplanned: readonly UnplannedCriterion[] } {
  const aims: PlannedAim[] = [];
  const unplanned: UnplannedCriterion[] = [];
  for (const scope of plan.analytes) {
    for (const { level } of plan.levels) {
      const expected = expectationFor(planning, scope.analyte, level);
      if (expected === null) unplanned.push(without(scope.analyte, level));
      else aims.push(...precisionAims(plan, scope.analyte, level, expected));
    }
    const expected = expectationFor(planning, scope.analyte, '*');
    if (expected !== null) aims.push(...analyteAims(plan, scope, expected));
  }
  return { aims, unplanned: [...unplanned, ...notByNumber(plan)] };
}

/** The expectation that names the level, else the one for all levels; for all levels (`*`) the first of the analyte. */
function expectationFor(planning: PlanningRecord, analyte: string, level: string): Expectation | null {
  const own = planning.expectations.filter((e) => e.analyte === analyte);
  const named = own.find((e) => e.level === level) ?? own.find((e) => e.level === '*');
  return named ?? (level === '*' ? (own[0] ?? null) : null);
}

function without(analyte: string, level: string): UnplannedCriterion {
  return { characteristic: 'all', analyte, level, reason: 'the plan expects nothing of it' };
}

function precisionAims(plan: StudyPlan, analyte: string, level: string, e: Expectation): PlannedAim[] {
  const n = plan.resultRule.digestions;
  const within = e.digestionPercent / Math.sqrt(n);
  const overDays = Math.hypot(e.dayPercent, within);
  const varianceRatio = (e.dayPercent / e.digestionPercent) ** 2;
  const aimOf = (characteristic: Characteristic, expected: number): PlannedAim[] => {
    const criterion = relative(criterionFor(plan, characteristic, analyte, level));
    if (criterion === null) return [];
    const ratio = criterion.limit / expected;
    const repeatability = characteristic === 'repeatability';
    return [
      {
        characteristic,
        analyte,
        level,
        unit: '%',
        allowed: criterion.limit,
        expected,
        aim: {
          kind: 'precision',
          wish: {
            intermediateRatio: repeatability ? null : ratio,
            repeatabilityRatio: repeatability ? ratio : null,
            varianceRatio,
          },
        },
      },
    ];
  };
  return [...aimOf('repeatability', within), ...aimOf('intermediate precision', overDays)];
}

function analyteAims(plan: StudyPlan, scope: AnalyteScope, e: Expectation): PlannedAim[] {
  const overDays = Math.hypot(e.dayPercent, e.digestionPercent / Math.sqrt(plan.resultRule.digestions));
  const mean = (
    characteristic: Characteristic,
    counts: 'days' | 'spikes' | 'runs',
    parts: Omit<MeanPlan, 'allowed'>,
  ): PlannedAim[] => {
    const criterion = relative(criterionFor(plan, characteristic, scope.analyte, '*'));
    if (criterion === null) return [];
    const allowed = (criterion.limit - (criterion.lower ?? -criterion.limit)) / 2;
    const expected = parts.expected;
    const aim = { kind: 'mean', counts, mean: { ...parts, allowed } } as const;
    return [{ characteristic, analyte: scope.analyte, level: '*', unit: '%', allowed, expected, aim }];
  };
  const spike = (stage: 'recovery before fusion' | 'recovery after dissolution') =>
    e.recoveryPercent === null
      ? []
      : mean(stage, 'spikes', {
          expected: e.biasPercent,
          dayStandardDeviation: e.recoveryPercent,
          fixedStandardUncertainty: e.additionPercent ?? 0,
        });
  return [
    ...mean('trueness', 'days', {
      expected: e.biasPercent,
      dayStandardDeviation: overDays,
      fixedStandardUncertainty: e.certifiedPercent,
    }),
    ...mean('linearity', 'runs', {
      expected: 0,
      dayStandardDeviation: e.calibrationPercent,
      fixedStandardUncertainty: 0,
    }),
    ...spike('recovery before fusion'),
    ...spike('recovery after dissolution'),
    ...limitAim(plan, scope, e),
  ];
}

function limitAim(plan: StudyPlan, { analyte, unit }: AnalyteScope, e: Expectation): PlannedAim[] {
  const criterion = criterionFor(plan, 'limit of quantification', analyte, '*');
  if (criterion === null || criterion.unit !== unit) return [];
  return [
    {
      characteristic: 'limit of quantification',
      analyte,
      level: '*',
      unit,
      allowed: criterion.limit,
      expected: e.limitOfQuantification,
      aim: { kind: 'blanks', ratio: criterion.limit / e.limitOfQuantification },
    },
  ];
}

/** Only criteria in % can be planned from expectations in %. */
function relative(criterion: Criterion | null): Criterion | null {
  return criterion?.unit === '%' ? criterion : null;
}

const byNumber: readonly string[] = [
  'repeatability',
  'intermediate precision',
  'trueness',
  'linearity',
  'recovery before fusion',
  'recovery after dissolution',
  'limit of quantification',
];

const reasons: Readonly<Record<string, string>> = {
  'target uncertainty': 'follows from the whole budget: the validation shows it, with what it would take',
  'procedure blank': 'shown by the procedure blanks proposed for the limit of quantification',
  'total of oxides': 'shown by the samples of the precision experiment',
  'check solution': 'shown by the check solutions of every run',
  'internal standard recovery': 'shown by every solution of the study',
  'shift after change': 'judged after a change of equipment, by control results before and after',
  'precision after change': 'judged after a change of equipment, by control results before and after',
  'weighing of the portion': 'follows from the certificate of the balance',
};

/** Criteria whose power does not follow from a number of days, additions or blanks alone. */
function notByNumber(plan: StudyPlan): UnplannedCriterion[] {
  const names = [...new Set(plan.criteria.map((c) => c.characteristic))];
  return names
    .filter((name) => !byNumber.includes(name))
    .map((characteristic) => ({
      characteristic,
      analyte: '*',
      level: '*',
      reason:
        reasons[characteristic] ?? 'one experiment of its own decides it, not a number of days or blanks',
    }));
}
