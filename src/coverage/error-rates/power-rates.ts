import type { Expectation, PlanningRecord } from '../../records/planning.js';
import type { StudyPlan } from '../../records/study.js';
import { studyPlan } from '../../scenario/plan/study-plan.js';
import { planValidation } from '../../studies/planning/plan-validation.js';
import { randomStream } from '../../uncertainty/random-stream.js';
import { precision } from '../../validation/precision/precision.js';
import { trueness } from '../../validation/trueness/trueness.js';
import { type ErrorRate, errorRate } from './error-rate.js';
import { inventedDays } from './invented-days.js';

/** Criteria that bite: with the wide ones of the demonstration every power would be 1. */
const criteria = [
  { characteristic: 'repeatability', kind: 'at most', limit: 0.8 },
  { characteristic: 'intermediate precision', kind: 'at most', limit: 1.25 },
  { characteristic: 'trueness', kind: 'within', limit: 1.6 },
] as const;

/**
 * Plans a validation of one analyte, then carries it out many times with truths as the plan expected them: each criterion must be
 * met as often as the plan promised.
 */
export function powerRates(seeds: readonly number[], power: number): ErrorRate[] {
  const plan = plannedStudy(power);
  const proposal = planValidation(plan);
  const expected = plan.planning!.expectations[0]!;
  const { days, digestionsPerDay } = proposal.numbers;
  const perResult = plan.resultRule.digestions;
  const unit = 'g/100 g';
  const spread = {
    dayStandardDeviation: expected.dayPercent,
    digestionStandardDeviation: expected.digestionPercent,
  };
  const [repeatability, intermediate, bias] = plan.criteria;
  const met: Record<string, number> = {};
  const count = (verdict: string, name: string) => {
    met[name] = (met[name] ?? 0) + (verdict === 'met' ? 1 : 0);
  };
  for (const seed of seeds) {
    const rows = inventedDays({ content: 100, ...spread }, days, digestionsPerDay, seed, 'planned precision');
    const found = precision(rows, {
      analyte: 'Zr',
      level: 'low',
      unit,
      digestionsPerResult: perResult,
      repeatabilityCriterion: repeatability!,
      intermediateCriterion: intermediate!,
    });
    count(found.repeatability.verdict, 'repeatability');
    count(found.intermediatePrecision.verdict, 'intermediate precision');
    const certified =
      100 + expected.certifiedPercent * randomStream(seed, 'error rates', 'planned CRM').normal();
    const content = 100 + expected.biasPercent;
    const onReference = inventedDays({ content, ...spread }, days, perResult, seed, 'planned trueness');
    const truth = trueness(onReference, {
      analyte: 'Zr',
      level: 'material',
      unit,
      criterion: bias!,
      certified: { material: 'material', value: certified, standardUncertainty: expected.certifiedPercent },
    });
    count(truth.finding.verdict, 'trueness');
  }
  const name = `${days} days × ${digestionsPerDay}, planned for ${100 * power} %`;
  return proposal.criteria.map(({ characteristic, power: promised }) =>
    errorRate(
      `power of ${characteristic}, promised ${(100 * promised).toFixed(1)} %; ${name}`,
      met[characteristic] ?? 0,
      seeds.length,
      { low: promised, high: promised },
    ),
  );
}

function plannedStudy(power: number): StudyPlan {
  const plan = studyPlan({ stability: [], nativeCheck: [] });
  const expectation: Expectation = {
    ...plan.planning!.expectations[0]!,
    dayPercent: 0.4,
    digestionPercent: 0.7,
    biasPercent: 0.3,
    certifiedPercent: 0.3,
  };
  const planning: PlanningRecord = { ...plan.planning!, power, mostDays: 30, expectations: [expectation] };
  return {
    ...plan,
    analytes: plan.analytes.filter((a) => a.analyte === expectation.analyte),
    levels: plan.levels.slice(0, 1),
    criteria: criteria.map((c) => ({
      ...c,
      analyte: '*',
      level: '*',
      unit: '%',
      reason: 'bites',
      owner: 'study of error rates',
    })),
    planning,
  };
}
