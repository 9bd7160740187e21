import type { AnalyteScope, StudyPlan } from '../../records/study.js';
import type { Characteristic } from '../../validation/characteristic.js';
import { edges } from '../../validation/verdict.js';
import type { EvaluatedStudy } from '../evaluate-study.js';
import { criterionFor } from '../matrix/matrix-context.js';
import type { MatrixValidation } from '../matrix/validate-matrix.js';
import { stated } from '../stated-inputs.js';
import type { StudyIndex } from '../study-index.js';
import { type RunControl, reachOf } from './routine-result.js';

/**
 * Whether the run measures as its validation did: what that found holds for its matrix, method, lines, corrections and stated
 * inputs, and under controls that are no wider. One control for what bears on all results, and one for each analyte that differs.
 *
 * @see ISO/IEC 17025:2017, 7.2.2.2
 */
export function methodControls(run: EvaluatedStudy, validation: MatrixValidation): RunControl[] {
  const [now, then] = [run.index, validation.study.index];
  const common = differences(commonConditions(now.records.plan), commonConditions(then.records.plan));
  const all = [...common, ...commonCriteria(now.records.plan, then.records.plan)];
  const ofAnalytes = now.records.plan.analytes.flatMap((scope) => {
    // An analyte that the validation does not know has no result.
    const before = then.scopes.get(scope.analyte);
    return before === undefined ? [] : analyteControl(scope, analyteDifferences(now, then, scope, before));
  });
  return [methodControl(now.records.plan.method, null, all), ...ofAnalytes];
}

function analyteControl({ analyte }: AnalyteScope, found: readonly string[]): RunControl[] {
  return found.length === 0 ? [] : [methodControl(analyte, analyte, found)];
}

function methodControl(about: string, analyte: string | null, found: readonly string[]): RunControl {
  return {
    control: 'method as validated',
    about,
    found: found.length,
    low: null,
    high: 0,
    unit: 'changes',
    passed: found.length === 0,
    rule: found.length === 0 ? 'the plan of the run against that of the validation' : found.join('; '),
    holds: { kind: 'not as validated', reach: reachOf({ analyte }) },
  };
}

type Conditions = Readonly<Record<string, string | number | undefined>>;

/** What has another value, or none, in the run. */
function differences(now: Conditions, then: Conditions): string[] {
  const shown = (value: string | number | undefined) => (value === undefined ? 'none' : String(value));
  return Object.keys(then)
    .filter((name) => now[name] !== then[name])
    .map((name) => `${name} ${shown(now[name])}, in the validation ${shown(then[name])}`);
}

function commonConditions({ matrix, method, internalStandard, nominal }: StudyPlan): Conditions {
  const { element, lineNm, mode } = internalStandard;
  return {
    matrix,
    method,
    'internal standard': `${element} ${lineNm} nm, ${mode}`,
    'nominal portion in g': nominal.portionG,
    'nominal flux in g': nominal.fluxG,
    'nominal solution in g': nominal.solutionG,
  };
}

function conditionsOf(scope: AnalyteScope): Conditions {
  const { lineNm, secondLineNm, secondLineShare, measuredIn, oxide, unit } = scope;
  return {
    'line in nm': lineNm,
    'second line in nm': secondLineNm,
    'share of the second line': secondLineShare,
    'measured in the': measuredIn,
    oxide,
    unit,
  };
}

function analyteDifferences(
  now: StudyIndex,
  then: StudyIndex,
  scope: AnalyteScope,
  before: AnalyteScope,
): string[] {
  const { analyte } = scope;
  const [plan, validated] = [now.records.plan, then.records.plan];
  const corrected = interferentsOf(now, analyte);
  const names = [...new Set(validated.statedInputs.map((s) => s.name))];
  return [
    ...differences(conditionsOf(scope), conditionsOf(before)),
    ...interferentsOf(then, analyte)
      .filter((line) => !corrected.includes(line))
      .map((line) => `no correction for ${line}`),
    ...names
      .filter((name) => stated(then, name, analyte) !== null && stated(now, name, analyte) === null)
      .map((name) => `no stated input "${name}", so that u leaves it out`),
    ...wider(plan, validated, 'check solution', analyte, validated.driftCheckSolution),
    ...(before.secondLineNm === undefined ? [] : wider(plan, validated, 'second line', analyte, '*')),
  ];
}

/** Corrections on the lines of an analyte, by what disturbs it and where. */
function interferentsOf({ records }: StudyIndex, analyte: string): string[] {
  return records.interference
    .filter((k) => k.analyte === analyte)
    .map(({ interferent, lineNm }) => `${interferent} at ${lineNm} nm`);
}

function commonCriteria(now: StudyPlan, then: StudyPlan): string[] {
  const { element, lineNm } = then.internalStandard;
  const { readings } = then.resultRule;
  return [
    ...wider(now, then, 'internal standard recovery', element, `${lineNm} nm`),
    ...(now.resultRule.readings < readings
      ? [`${now.resultRule.readings} readings of a solution, in the validation ${readings}`]
      : []),
  ];
}

/** A control of the validation that the run leaves out, or whose limits it draws wider. */
function wider(
  now: StudyPlan,
  then: StudyPlan,
  characteristic: Characteristic,
  analyte: string,
  level: string,
): string[] {
  const before = criterionFor(then, characteristic, analyte, level);
  if (before === null) return [];
  const own = criterionFor(now, characteristic, analyte, level);
  if (own === null) return [`no criterion for ${characteristic}`];
  const [mine, theirs] = [edges(own), edges(before)];
  if (own.unit === before.unit && mine.low >= theirs.low && mine.high <= theirs.high) return [];
  return [`the criterion for ${characteristic} allows more than that of the validation`];
}
