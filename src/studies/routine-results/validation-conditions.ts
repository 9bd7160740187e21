import { formatSignificant } from '../../quantities/rounding.js';
import type { AnalyteScope } from '../../records/study.js';
import type { DigestionRecord } from '../../records/tables/digestions.js';
import { scaleOf } from '../../validation/scale.js';
import type { CrucibleMemory } from '../../validation/stability/crucible-memory.js';
import type { SolutionStability } from '../../validation/stability/solution-stability.js';
import type { DigestionResult, EvaluatedStudy } from '../evaluate-study.js';
import { previousInCrucible } from '../matrix/stability-study.js';
import type { MatrixValidation } from '../matrix/validate-matrix.js';
import { type WorkingRange, workingRanges } from '../matrix/working-ranges.js';
import { lowestReportedOf } from './blank-controls.js';
import type { ResultFlag } from './routine-result.js';
import { readingOf } from './runs-of-measurement.js';

/** What a validation found that its statement of fitness is bound to, made ready for the results of one run. */
export interface ValidationConditions {
  readonly run: EvaluatedStudy;
  readonly validation: MatrixValidation;
  readonly ranges: ReadonlyMap<string, WorkingRange>;
  readonly memory: ReadonlyMap<string, CrucibleMemory>;
  readonly stability: ReadonlyMap<string, SolutionStability>;
  /** By digestion of the run: the one that its crucible held before. */
  readonly before: ReadonlyMap<string, DigestionRecord>;
}

/**
 * @param digestions of the run, with those that have no result
 */
export function validationConditions(
  run: EvaluatedStudy,
  validation: MatrixValidation,
  digestions: readonly DigestionRecord[],
): ValidationConditions {
  const byAnalyte = <T extends { readonly finding: { readonly analyte: string } }>(found: readonly T[]) =>
    new Map(found.map((f) => [f.finding.analyte, f]));
  return {
    run,
    validation,
    ranges: new Map(workingRanges(validation).map((range) => [range.analyte, range])),
    memory: byAnalyte(validation.memory),
    stability: byAnalyte(validation.stability),
    before: previousInCrucible(digestions),
  };
}

/** Conditions of the validation that one digestion does not keep. */
export function conditionFlags(conditions: ValidationConditions, result: DigestionResult): ResultFlag[] {
  return [...memoryFlag(conditions, result), ...timeFlag(conditions, result)];
}

/**
 * After a richer sample in the same crucible. What it hands on is held against what the criterion allows; a memory that is not
 * shown to keep its criterion is told even where this digestion does. Of a sample before that has no result, what the rich one of
 * the validation handed on stands for it.
 */
function memoryFlag(conditions: ValidationConditions, result: DigestionResult): ResultFlag[] {
  const { run, validation, memory, before } = conditions;
  const { digestion, analyte, value } = result;
  const found = memory.get(analyte);
  const criterion = found?.finding.criterion ?? null;
  const previous = before.get(digestion);
  if (found === undefined || criterion === null || previous === undefined || value === null) return [];
  const { excess, richMassFraction, finding } = found;
  const isMet = finding.verdict === 'met';
  const scope = run.index.scopes.get(analyte)!;
  const base = Math.max(value, lowestReportedOf(validation, scope));
  // A relative criterion counts against the content of this sample, as it did against that of the rich one.
  const allowed = criterion.limit / scaleOf(criterion, scope.unit, base).factor;
  const content = run.results.find((r) => r.digestion === previous.digestion && r.analyte === analyte)?.value;
  if (content === undefined || content === null) {
    // A blank has nothing to hand on; of another one nobody knows.
    if (previous.kind === 'blank' || isMet) return [];
    const text = `${digestion}: its crucible ${previous.crucible} held ${previous.sample} (${previous.digestion}) before, which has no result of ${analyte} to tell what it handed on; by the validation crucible memory is ${finding.verdict}`;
    return [{ kind: 'after a sample without a result', text, holds: excess > allowed }];
  }
  if (content <= value) return [];
  const fraction = Math.max(0, excess) / richMassFraction;
  const handedOn = fraction * content;
  const isKept = handedOn <= allowed;
  if (isKept && isMet) return [];
  const { unit } = scope;
  const shown = (mass: number) => formatSignificant(mass, 3);
  const text =
    `${digestion}: its crucible ${previous.crucible} held ${previous.sample} (${previous.digestion}) before, with ${shown(content)} ${unit} ` +
    `against ${shown(value)} ${unit}; by the validation ${shown(100 * fraction)} % of it are handed on, ${shown(handedOn)} ${unit}, allowed ${shown(allowed)} ${unit}`;
  return [{ kind: 'after a richer sample', text, holds: !isKept }];
}

/** Read later than the validation shows the solution to keep. Of the fusion only the day is recorded. */
function timeFlag({ run, stability }: ValidationConditions, result: DigestionResult): ResultFlag[] {
  const { digestion, day, analyte, observation } = result;
  const found = stability.get(analyte);
  const read = readingOf(run, observation.signals[0]!);
  if (found === undefined || read === null) return [];
  const { longestHours } = found;
  const most = read.timeHours - Date.parse(`${day}T00:00:00Z`) / 3_600_000;
  const least = Math.max(0, most - 24);
  if (most <= longestHours) return [];
  const hours = `between ${least.toFixed(0)} h and ${most.toFixed(0)} h after its fusion on ${day}`;
  const shown = longestHours === 0 ? 'shown to keep for no time' : `shown to keep ${longestHours} h`;
  return [
    {
      kind: 'read late',
      text: `${digestion}: ${analyte} read ${hours}, ${shown}`,
      holds: least > longestHours,
    },
  ];
}

/** A result outside the contents that the validation tested. */
export function rangeRemark(
  { ranges }: ValidationConditions,
  { analyte, unit }: AnalyteScope,
  of: { readonly sample: string; readonly value: number; readonly lowestReported: number },
): ResultFlag[] {
  const { sample, value, lowestReported } = of;
  const range = ranges.get(analyte);
  if (range === undefined || value < lowestReported) return [];
  const { tested } = range;
  if (tested !== null && value >= tested.low && value <= tested.high) return [];
  const shown = (content: number) => formatSignificant(content, 4);
  const words =
    tested === null
      ? 'the validation tested no range'
      : `outside the range that the validation tested, ${shown(tested.low)} to ${shown(tested.high)} ${unit}`;
  const text = `${sample}: ${shown(value)} ${unit} of ${analyte}, ${words}`;
  return [{ kind: 'outside the tested range', text, holds: false }];
}
