import { InputError } from '../../errors.js';
import { formatSignificant, roundToUncertainty } from '../../quantities/rounding.js';
import type { AnalyteScope, PlannedRecovery } from '../../records/study.js';
import type { StudyRecords } from '../../records/study-records.js';
import { conformityStatement } from '../../uncertainty/conformity/conformity-statement.js';
import { meanOfResults } from '../../uncertainty/correlated-results/combine-results.js';
import {
  type CorrelatedResult,
  effectiveDegreesOfFreedomOf,
  standardUncertaintyOf,
} from '../../uncertainty/correlated-results/correlated-result.js';
import { coverageFactor } from '../../uncertainty/coverage-factor.js';
import { fitnessClause } from '../../validation/fitness.js';
import { type EvaluatedStudy, evaluateIndex } from '../evaluate-study.js';
import type { MatrixValidation } from '../matrix/validate-matrix.js';
import { measuredSolutions } from '../measured-solutions.js';
import { type StudyCovariance, studyCovariance } from '../result-covariance/study-covariance.js';
import { indexStudy, type StudyIndex, solutionKey } from '../study-index.js';
import { withoutExcludedRows } from '../without-excluded-rows.js';
import { lowestReportedOf } from './blank-controls.js';
import { controlFlags } from './control-flags.js';
import { digestionFlags, standardsFlags } from './digestion-flags.js';
import { flagsOfDigestion } from './flags-of-digestion.js';
import { withPooledNoise } from './pooled-noise.js';
import { rereadFlags } from './reread-flags.js';
import type { ResultConformity, ResultFlag, RoutineResult, RunControl } from './routine-result.js';
import { runControls } from './run-controls.js';
import { type RoutineTotal, totalOfSample } from './total-of-sample.js';
import {
  conditionFlags,
  rangeRemark,
  type ValidationConditions,
  validationConditions,
} from './validation-conditions.js';

/** Results of a routine run with all that decides whether they are used. */
export interface RoutineResults {
  readonly run: EvaluatedStudy;
  readonly validation: MatrixValidation;
  readonly controls: readonly RunControl[];
  /** True where every control of the run passed. */
  readonly accepted: boolean;
  readonly results: readonly RoutineResult[];
  readonly totals: readonly RoutineTotal[];
}

/**
 * Results of a routine run with their uncertainties: from the run's own records and calibration, with the scatter and the limits of
 * quantification that the validation found. A flagged result is held for a person; one whose records are incomplete has no value;
 * the others go on.
 *
 * @param records of the run; its plan says which validation it rests on
 * @throws InputError a study that is no routine run, or another validation than the plan names
 * @see ISO/IEC 17025:2017, 7.8.2, 7.8.3 and 7.8.6
 */
export function routineResults(records: StudyRecords, validation: MatrixValidation): RoutineResults {
  const { plan } = records;
  if (plan.routine === undefined)
    throw new InputError(
      `study ${plan.study}: found no key "routine" in its plan, expected the folder of a routine run, such as data/zircon-routine, whose plan names the validation that it rests on`,
    );
  const validated = validation.study.index.records.plan.study;
  if (plan.routine.validation !== validated) {
    throw new InputError(
      `validation: found "${validated}", expected "${plan.routine.validation}" as the plan names it`,
    );
  }
  const complete = records.digestions.filter((d) => d.vesselEmptyG !== null);
  const used = withoutExcludedRows({ ...records, digestions: complete });
  const recoveries = recoveriesFor(plan, validation);
  const own = indexStudy(used, measuredSolutions(used.readings));
  const index = { ...withPooledNoise(own, validation.study.index), ...recoveries };
  const run = evaluateIndex(index);
  const covariance = studyCovariance(validation.study, plan.route);
  const controls = runControls(run, validation, covariance.scatter, records);
  const samples = [...new Set(records.digestions.filter((d) => d.kind === 'sample').map((d) => d.sample))];
  const conditions = validationConditions(run, validation, records.digestions);
  const context: Context = { records, run, validation, covariance, controls, conditions };
  const results = samples.flatMap((sample) =>
    plan.analytes.map(({ analyte }) => routineResult(context, sample, analyte)),
  );
  return {
    run,
    validation,
    controls,
    accepted: controls.every((c) => c.passed),
    results,
    totals: samples.flatMap((sample) => totalOfSample(run.index.records, validation, sample, results)),
  };
}

/** A run is corrected as its validation was: by the same recoveries, found there. */
function recoveriesFor(
  { study, recovery = [] }: StudyRecords['plan'],
  { study: { index } }: MatrixValidation,
): Pick<StudyIndex, 'recoveries'> {
  const before = index.records.plan.recovery ?? [];
  if (JSON.stringify(recovery) !== JSON.stringify(before)) {
    throw new InputError(
      `study ${study}: found "recovery" for ${namesOf(recovery)}, expected the same rule as the validation has, for ${namesOf(before)}`,
    );
  }
  return index.recoveries === undefined ? {} : { recoveries: index.recoveries };
}

function namesOf(planned: readonly PlannedRecovery[]): string {
  return (
    planned.map(({ analyte, from, correct }) => `${analyte} (${from}, ${correct})`).join(', ') || 'no analyte'
  );
}

interface Context {
  /** With the digestions that have no result. */
  readonly records: StudyRecords;
  readonly run: EvaluatedStudy;
  readonly validation: MatrixValidation;
  readonly covariance: StudyCovariance;
  readonly controls: readonly RunControl[];
  readonly conditions: ValidationConditions;
}

function routineResult(context: Context, sample: string, analyte: string): RoutineResult {
  const { records, run, validation, covariance } = context;
  const scope = records.plan.analytes.find((a) => a.analyte === analyte)!;
  const rows = records.digestions.filter((d) => d.kind === 'sample' && d.sample === sample);
  const own = run.results.filter((r) => r.sample === sample && r.kind === 'sample' && r.analyte === analyte);
  const valued = own.filter((r) => r.value !== null);
  const read = rows.map((d) => d.digestion).filter((d) => isRead(run.index, d, scope));
  const lowestReported = lowestReportedOf(validation, scope);
  const flags = [
    ...digestionFlags(records, rows, { analyte, valued: valued.map((r) => r.digestion), read }),
    ...standardsFlags(records),
    ...own.flatMap((r) => [
      ...flagsOfDigestion(run, r),
      ...rereadFlags(run, covariance.scatter, r, lowestReported),
      ...conditionFlags(context.conditions, r),
    ]),
    ...controlFlags(run, context.controls, { sample, analyte, results: own }),
    ...fitnessFlags(context, analyte),
  ];
  const base = {
    sample,
    analyte,
    reportedAs: scope.oxide ?? analyte,
    unit: scope.unit,
    digestions: valued.map((r) => r.digestion),
    lowestReported,
  };
  if (valued.length === 0) return withoutValue(base, flags);
  if (!covariance.scatter.analytes.includes(analyte)) return withoutValue(base, [noScatter, ...flags]);
  const correlated = meanOfResults(
    `${analyte} in ${sample}`,
    valued.map((r) => covariance.resultOf(r)),
  );
  const remark = rangeRemark(context.conditions, scope, { ...base, value: correlated.estimate });
  return withValue(context, base, [...flags, ...remark], correlated);
}

/** True where the solution of the digestion, or a dilution of it, was read on the analyte's line. */
function isRead({ bySolution, dilutionsOf }: StudyIndex, digestion: string, scope: AnalyteScope): boolean {
  const { analyte, lineNm } = scope;
  const solutions = [digestion, ...(dilutionsOf.get(digestion) ?? []).map((d) => d.dilution)];
  return solutions.some((solution) => bySolution.has(solutionKey(solution, analyte, lineNm)));
}

const noScatter: ResultFlag = {
  kind: 'no uncertainty',
  text: 'the validation has no results repeated within and over days at a content to be reported',
  holds: true,
};

type Base = Pick<
  RoutineResult,
  'sample' | 'analyte' | 'reportedAs' | 'unit' | 'digestions' | 'lowestReported'
>;

function withoutValue(base: Base, flags: readonly ResultFlag[]): RoutineResult {
  return {
    ...base,
    value: null,
    standardUncertainty: null,
    coverageFactor: null,
    expandedUncertainty: null,
    effectiveDegreesOfFreedom: null,
    text: `no result: ${flags[0]!.kind}`,
    status: 'no result',
    flags,
    conformity: null,
    correlated: null,
  };
}

function withValue(
  context: Context,
  base: Base,
  others: readonly ResultFlag[],
  correlated: CorrelatedResult,
): RoutineResult {
  const standardUncertainty = standardUncertaintyOf(correlated);
  const nu = effectiveDegreesOfFreedomOf(correlated);
  const k = coverageFactor(nu, 0.95);
  const expandedUncertainty = k * standardUncertainty;
  const value = correlated.estimate;
  const below = value < base.lowestReported;
  const flags = [...belowZero(base, value, expandedUncertainty), ...others];
  const held = flags.some((flag) => flag.holds);
  const status = held ? 'held' : below ? 'below limit' : 'reported';
  const rounded = roundToUncertainty(value, expandedUncertainty);
  const number = `${rounded.valueText} ± ${rounded.uncertaintyText}`;
  return {
    ...base,
    value,
    standardUncertainty,
    coverageFactor: k,
    expandedUncertainty,
    effectiveDegreesOfFreedom: nu,
    text: below ? `< ${formatSignificant(base.lowestReported, 3)} (estimate ${number})` : number,
    status,
    flags,
    conformity: held ? null : conformityOf(context, base, { value, standardUncertainty, nu }),
    correlated,
  };
}

/** Nothing holds less than none: a signal was lost, or too much was taken off (common practice, no source). */
function belowZero(
  { sample, analyte, unit }: Base,
  value: number,
  expandedUncertainty: number,
): ResultFlag[] {
  if (value + expandedUncertainty >= 0) return [];
  const shown = (content: number) => formatSignificant(content, 3).replace('-', '−');
  const text = `${sample}: ${shown(value)} ${unit} of ${analyte}, below zero by more than its expanded uncertainty (95 %) of ${shown(expandedUncertainty)} ${unit}`;
  return [{ kind: 'below zero', text, holds: true }];
}

function conformityOf(
  { records }: Context,
  base: Base,
  measured: { readonly value: number; readonly standardUncertainty: number; readonly nu: number },
): ResultConformity | null {
  const { specifications, decisionRule, risk } = records.plan.routine!;
  const specification = specifications.find((s) => s.analyte === base.analyte);
  if (specification === undefined) return null;
  const { lower, upper, document } = specification;
  const found = conformityStatement(
    {
      estimate: measured.value,
      standardUncertainty: measured.standardUncertainty,
      degreesOfFreedom: measured.nu,
    },
    { ...(lower === null ? {} : { lower }), ...(upper === null ? {} : { upper }) },
    decisionRule === 'simple acceptance' ? { kind: decisionRule } : { kind: decisionRule, risk },
  );
  return {
    accepted: found.accepted,
    conformanceProbability: found.conformanceProbability,
    acceptance:
      found.acceptance === null
        ? null
        : { lower: found.acceptance.lower ?? null, upper: found.acceptance.upper ?? null },
    statement: `${found.statement} Specification: ${document}.`,
  };
}

/** What the validation says of the analyte where it does not call it fit. */
function fitnessFlags({ validation }: Context, analyte: string): ResultFlag[] {
  const found = validation.fitness.find((f) => f.analyte === analyte);
  if (found === undefined || found.statement === 'fit') return [];
  const kind = found.statement === 'not fit' ? 'not fit by its validation' : 'fitness not shown';
  return [{ kind, text: fitnessClause(found), holds: false }];
}
