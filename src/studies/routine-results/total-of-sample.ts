import { conversionFactor } from '../../quantities/unit.js';
import type { StudyRecords } from '../../records/study-records.js';
import { mean } from '../../statistics/descriptive/mean.js';
import { sumOfResults } from '../../uncertainty/correlated-results/combine-results.js';
import {
  effectiveDegreesOfFreedomOf,
  standardUncertaintyOf,
} from '../../uncertainty/correlated-results/correlated-result.js';
import { coverageFactor } from '../../uncertainty/coverage-factor.js';
import { nameOfTotal } from '../../validation/acceptance/total-of-oxides.js';
import type { Criterion } from '../../validation/finding.js';
import { scaleOf } from '../../validation/scale.js';
import { edges } from '../../validation/verdict.js';
import { lossesInTotal } from '../matrix/losses-in-total.js';
import { criterionFor, resultsOf } from '../matrix/matrix-context.js';
import type { MatrixValidation } from '../matrix/validate-matrix.js';
import type { RoutineResult } from './routine-result.js';

/** What a total does not hold, and why. */
export interface MissingInTotal {
  /** Form that it is, or would be, reported in: oxide or element. */
  readonly name: string;
  readonly reason: string;
  /** Lowest and highest content at the levels of the validation, g/100 g, where the run does not determine it at all; else null. */
  readonly atLevels: { readonly lowest: number; readonly highest: number } | null;
}

/** Total of oxides of one sample, with its losses of mass where they are recorded. */
export interface RoutineTotal {
  readonly sample: string;
  /** What was added: "total of oxides", "total of oxides and loss on ignition". */
  readonly quantity: string;
  readonly value: number;
  readonly standardUncertainty: number;
  readonly expandedUncertainty: number;
  readonly coverageFactor: number;
  /** Standard uncertainty that would be found if the oxides were taken as independent. */
  readonly standardUncertaintyApart: number;
  /**
   * Null without a criterion, where an analyte of the run is missing in the sum, or where the oxides that the run does not determine
   * decide: with as much of them as the validation's levels hold, the outcome would be another.
   */
  readonly within: boolean | null;
  /** Analytes whose held results stand in the sum. */
  readonly held: readonly string[];
  /** Analytes below their limit that stand in the sum with their estimate. */
  readonly belowLimit: readonly string[];
  readonly missing: readonly MissingInTotal[];
  /** Losses of mass that stand in the sum. */
  readonly losses: readonly string[];
  /** Losses of mass that are left out because no record tells them, with the reason; null where none is. */
  readonly lossesLeftOut: string | null;
}

/** Lowest and highest total that the plan of a run allows, g/100 g; infinite on a side that it leaves open. */
export interface LimitsOfTotal {
  readonly low: number;
  readonly high: number;
  readonly criterion: Criterion;
}

/** The limits of the plan for totals of samples; null where it sets none. */
export function limitsOfTotal(plan: StudyRecords['plan']): LimitsOfTotal | null {
  const criterion = criterionFor(plan, 'total of oxides', '*', '*');
  if (criterion === null) return null;
  const { factor } = scaleOf(criterion, 'g/100 g', Number.NaN, 'g/100 g');
  const { low, high } = edges(criterion);
  return { low: low / factor, high: high / factor, criterion };
}

const toGPer100G = (unit: string) => conversionFactor(unit, 'g/100 g');

/**
 * Total of oxides of one sample of a run; no entry where none of its oxides has a value. It screens: held results stand in it too,
 * named, for a lost part or a residue shows in it first. What is reported as the element is not added, for its oxide is not stated.
 *
 * @param results of the run
 * @see JCGM 102:2011, 6.2
 */
export function totalOfSample(
  records: StudyRecords,
  validation: MatrixValidation,
  sample: string,
  results: readonly RoutineResult[],
): RoutineTotal[] {
  const own = results.filter((r) => r.sample === sample);
  const oxides = own.filter((r) => isOxide(records, r.analyte));
  const valued = oxides.filter((r) => r.correlated !== null);
  if (valued.length === 0) return [];
  const { losses, leftOut } = lossesInTotal(records, sample);
  const terms = [
    ...valued.map((r) => ({ result: r.correlated!, coefficient: toGPer100G(r.unit) })),
    ...losses.map((result) => ({ result, coefficient: 1 })),
  ];
  const total = sumOfResults(nameOfTotal(losses), 'g/100 g', terms);
  const standardUncertainty = standardUncertaintyOf(total);
  const k = coverageFactor(effectiveDegreesOfFreedomOf(total), 0.95);
  const missing = [...own.flatMap((r) => missingOf(records, r)), ...oxidesNotInRun(records, validation)];
  return [
    {
      sample,
      quantity: nameOfTotal(losses),
      value: total.estimate,
      standardUncertainty,
      expandedUncertainty: k * standardUncertainty,
      coverageFactor: k,
      standardUncertaintyApart: Math.hypot(
        ...terms.map(({ result, coefficient }) => coefficient * standardUncertaintyOf(result)),
      ),
      within: isWithin(total.estimate, limitsOfTotal(records.plan), missing),
      held: valued.filter((r) => r.status === 'held').map((r) => r.analyte),
      belowLimit: valued.filter((r) => r.status === 'below limit').map((r) => r.analyte),
      missing,
      losses: losses.map(({ name }) => name),
      lossesLeftOut: leftOut,
    },
  ];
}

/** Samples of a run that have no total, each with the reason. */
export function samplesWithoutTotal(
  results: readonly RoutineResult[],
  totals: readonly RoutineTotal[],
): { readonly sample: string; readonly reason: string }[] {
  const samples = [...new Set(results.map((r) => r.sample))];
  return samples
    .filter((sample) => !totals.some((t) => t.sample === sample))
    .map((sample) => {
      const own = results.filter((r) => r.sample === sample && r.correlated === null);
      return {
        sample,
        reason: [...new Set(own.map(whyNoValue))].join('; ') || 'no analyte is reported as an oxide',
      };
    });
}

/** The flag that took the value, in full. */
function whyNoValue({ flags, text }: RoutineResult): string {
  return flags.find((flag) => flag.holds)?.text ?? text;
}

function isOxide({ plan }: StudyRecords, analyte: string): boolean {
  return plan.analytes.some((a) => a.analyte === analyte && a.oxide !== undefined);
}

/** Why an analyte of the run is not in the sum; nothing where it is. */
function missingOf(records: StudyRecords, result: RoutineResult): MissingInTotal[] {
  const { analyte, reportedAs, correlated } = result;
  if (!isOxide(records, analyte)) {
    return [{ name: reportedAs, reason: 'reported as the element, not as an oxide', atLevels: null }];
  }
  return correlated === null ? [{ name: reportedAs, reason: whyNoValue(result), atLevels: null }] : [];
}

/** Oxides that the validation determined and the run does not: every total of the run lacks them. */
function oxidesNotInRun({ plan }: StudyRecords, validation: MatrixValidation): MissingInTotal[] {
  const before = validation.study.index.records.plan;
  return before.analytes.flatMap(({ analyte, oxide, unit }) => {
    if (oxide === undefined || plan.analytes.some((a) => a.analyte === analyte)) return [];
    const means = before.levels.flatMap(({ sample }) => {
      const values = resultsOf(validation.study, analyte, 'sample', sample).map((r) => r.value);
      return values.length === 0 ? [] : [mean(values) * toGPer100G(unit)];
    });
    const atLevels = means.length === 0 ? null : { lowest: Math.min(...means), highest: Math.max(...means) };
    return [{ name: oxide, reason: `not in the plan of the run${fitnessOf(validation, analyte)}`, atLevels }];
  });
}

function fitnessOf({ fitness }: MatrixValidation, analyte: string): string {
  const found = fitness.find((f) => f.analyte === analyte);
  if (found === undefined) return '';
  const words = { fit: 'fit', 'not fit': 'not fit', 'not shown': 'not shown to be fit' } as const;
  const because = found.notMet.length > 0 ? found.notMet : found.open;
  const which = [...new Set(because.map((f) => f.characteristic))].join(', ');
  const ground =
    which === '' ? '' : ` (${found.notMet.length > 0 ? 'not met' : 'not shown or not studied'}: ${which})`;
  return `; by its validation, ${analyte} is ${words[found.statement]} for the intended use${ground}`;
}

/** Whether a total keeps its limits, whatever part of what is missing it would hold besides; null where that decides. */
function isWithin(
  total: number,
  limits: LimitsOfTotal | null,
  missing: readonly MissingInTotal[],
): boolean | null {
  if (limits === null || missing.some(({ atLevels }) => atLevels === null)) return null;
  const most = total + missing.reduce((sum, { atLevels }) => sum + Math.max(0, atLevels!.highest), 0);
  if (total >= limits.low && most <= limits.high) return true;
  return total > limits.high || most < limits.low ? false : null;
}
