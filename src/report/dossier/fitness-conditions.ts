import { lossInFusionSentences } from '../../records/loss-in-fusion.js';
import type { StudyRecords } from '../../records/study-records.js';
import { decisionRuleText } from '../../studies/decision-rule.js';
import type { MatrixValidation } from '../../studies/matrix/validate-matrix.js';
import { workingRanges } from '../../studies/matrix/working-ranges.js';
import type { Finding } from '../../validation/finding.js';
import { equipmentInUse } from '../sections/equipment-section.js';
import { rangeText } from '../sections/scope-section.js';
import { conditionNotes } from '../sections/verdict-table.js';
import { periodOfWork } from './period-of-work.js';

/** Under what the statement of fitness holds: what is common to all analytes, scope, rule of result, checks, time to reading. */
export function fitnessConditions(validation: MatrixValidation): string[] {
  const { plan, digestions } = validation.study.index.records;
  return [
    ...commonConditions(validation),
    ...lossInFusionSentences(plan, digestions),
    `A result is the mean of ${plan.resultRule.digestions} digestion(s) of one day, ${plan.resultRule.readings} readings each, on the lines of the scope.`,
    `Only within the tested working range of the scope (${rangesOf(validation)}), in this matrix, with the flux lot named or after its blanks and limits were shown again for a new lot.`,
    equipmentCondition(validation),
    'Check solutions, internal-standard recovery, blanks and a reference material stay within their criteria in every run.',
    ...timeConditions(validation),
    ...conditionNotes(validation.findings),
    `Decision rule: ${decisionRuleText(plan)}.`,
    'An authorised person releases the method; this report only states what was found.',
  ];
}

function rangesOf(validation: MatrixValidation, analytes: readonly string[] | null = null): string {
  return workingRanges(validation)
    .filter(({ analyte }) => analytes === null || analytes.includes(analyte))
    .map(
      ({ analyte, tested, unit }) =>
        `${analyte} ${tested === null ? 'none' : `${rangeText(tested)} ${unit}`}`,
    )
    .join('; ');
}

/**
 * What of it bears on the results of a routine run: the rule of result where the run has another one, tested ranges, times to
 * reading, conditions of single verdicts; and whether the run itself knows its loss in fusion.
 */
export function routineConditions(
  validation: MatrixValidation,
  { plan: run, digestions }: Pick<StudyRecords, 'plan' | 'digestions'>,
): string[] {
  const { plan } = validation.study.index.records;
  const analytes = run.analytes.map((scope) => scope.analyte);
  const [wanted, made] = [plan.resultRule.digestions, run.resultRule.digestions];
  const rule =
    made === wanted
      ? []
      : [
          `The validation states fitness for the mean of ${wanted} digestion(s) of one day; the plan of this run asks for ${made}. The uncertainty of each result is worked out for the digestions that it was made of, and a target was judged for ${wanted}.`,
        ];
  return [
    ...rule,
    ...lossInFusionSentences(run, digestions),
    `Tested working range: ${rangesOf(validation, analytes)}.`,
    ...timeConditions(validation),
    ...uncheckedConditions(validation, analytes),
    ...conditionNotes(validation.findings.filter((f) => analytes.includes(f.analyte))),
  ];
}

/** What no result is checked for, as the validation found nothing that it could be held against. */
function uncheckedConditions({ memory, stability }: MatrixValidation, analytes: readonly string[]): string[] {
  const without = (found: readonly { readonly finding: Finding }[]) =>
    analytes.filter((analyte) => !found.some((f) => f.finding.analyte === analyte)).join(', ');
  const [ofMemory, ofTime] = [
    without(memory.filter((m) => m.finding.criterion !== null)),
    without(stability),
  ];
  return [
    ...(ofMemory === ''
      ? []
      : [
          `Not checked for ${ofMemory}: what the crucible held before, as the validation did not study its memory against a criterion.`,
        ]),
    ...(ofTime === ''
      ? []
      : [`Not checked for ${ofTime}: the time to reading, as the validation did not follow its solutions.`]),
  ];
}

/** Equipment of the study, and what of it has left service since. */
function equipmentCondition({ study }: MatrixValidation): string {
  const { records } = study.index;
  const left = equipmentInUse(records.equipment, periodOfWork(records)).filter((e) => e.inServiceTo !== null);
  const since =
    left.length === 0
      ? ''
      : ` Of it, ${left.map((e) => `${e.id} left service on ${e.inServiceTo}`).join(' and ')}: results after that day rest on the report on that change.`;
  return `Only on the equipment named on the first page of this report; whether it holds after an exchange is judged in the report on an equipment change.${since}`;
}

/** What stands open for all analytes alike: of one sample, or of every result. */
function commonConditions({ findings, study }: MatrixValidation): string[] {
  const { element } = study.index.records.plan.internalStandard;
  const failing = findings.filter((f) => f.analyte === '*' && ['not met', 'not shown'].includes(f.verdict));
  const isNative = (f: Finding) => f.characteristic === 'native internal standard';
  const samples = (verdict: Finding['verdict']) =>
    failing.filter((f) => isNative(f) && f.verdict === verdict).map((f) => f.level);
  const [holding, open] = [samples('not met'), samples('not shown')];
  return [
    ...(holding.length > 0
      ? [
          `${named(holding)} ${element} itself, the element of the internal standard: no result of it goes to a customer. Samples found free of it keep their statement; a new kind of sample is first read once without internal standard.`,
        ]
      : []),
    ...(open.length > 0
      ? [
          `Whether ${open.join(', ')} holds ${element}, the element of the internal standard, is not shown: its results wait for that.`,
        ]
      : []),
    ...failing
      .filter((f) => !isNative(f))
      .map((f) => `${f.characteristic} (${f.level}) is ${f.verdict}: this bears on every analyte.`),
  ];
}

function named(samples: readonly string[]): string {
  return samples.length === 1 ? `Sample ${samples[0]} holds` : `Samples ${samples.join(', ')} each hold`;
}

/** How long solutions may wait, analyte by analyte where one keeps shorter than the plan wants. */
function timeConditions({ stability, fitness }: MatrixValidation): string[] {
  const kept = stability.filter((s) => s.finding.verdict === 'met');
  const short = stability.filter((s) => s.finding.verdict !== 'met' && s.finding.criterion !== null);
  const names = (some: typeof stability) => some.map((s) => s.finding.analyte).join(', ');
  const times = [...new Set(kept.map((s) => s.longestHours))];
  return [
    ...times.map((hours) => {
      const own = kept.filter((s) => s.longestHours === hours);
      return `For ${names(own)}: solutions are read within ${hours} h of dissolution, the longest time tested and kept.`;
    }),
    ...short.map(({ finding: { analyte, criterion, verdict }, longestHours }) => {
      const wanted = `the plan wants ${criterion!.limit} h`;
      if (longestHours === 0) {
        return `For ${analyte}: no time to reading is shown over which the content in solution stays within the allowed change, and ${wanted}.`;
      }
      const own = fitness.find((f) => f.analyte === analyte);
      const isAlone = own !== undefined && own.notMet.length + own.open.length === 1;
      const others = isAlone ? ` All other criteria of ${analyte} are met.` : '';
      return `For ${analyte}: the content in solution stays within the allowed change up to ${longestHours} h, and ${wanted}, so that solution stability is ${verdict}.${others} Solutions read within ${longestHours} h are not touched by the change that was found; ${analyte} stays as stated above until the owner of the plan shortens the wanted time or a longer time is shown.`;
    }),
  ];
}
