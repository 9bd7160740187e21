import type { PlannedCriterion } from '../../records/study.js';
import { type Characteristic, characteristics } from '../../validation/characteristic.js';
import type { Finding } from '../../validation/finding.js';
import { notStudied } from '../../validation/not-studied.js';
import type { EvaluatedStudy } from '../evaluate-study.js';
import { solutionKey } from '../study-index.js';
import { criterionFor, hasContent, resultsOf } from './matrix-context.js';

/** Criteria about an exchange of equipment; they are judged by that job, not by the validation of a matrix. */
const ofAnotherJob: readonly Characteristic[] = ['shift after change', 'precision after change'];

/** Data that each characteristic rests on, in words for a reader who asks why it is not studied. */
const needs: Readonly<Partial<Record<Characteristic, string>>> = {
  repeatability: 'there are no results on at least two days with two digestions on one of them',
  'intermediate precision': 'there are no results on at least two days with two digestions on one of them',
  trueness: 'no reference material that certifies it was digested',
  'recovery before fusion': 'no addition before fusion is recorded with its unspiked partner',
  'recovery after dissolution': 'no addition after dissolution is recorded with its unspiked partner',
  linearity: 'it was not calibrated',
  'limit of quantification': 'no procedure blank was read',
  'procedure blank': 'no procedure blank was read',
  'target uncertainty': 'there are no repeated results that a budget could rest on',
  'second line': 'no second line was read',
  'interference check': 'no solution of the interferent alone was read',
  'crucible memory': 'no blank was digested after a rich sample in the same crucible',
  'carry-over': 'no zero solution was read directly after a solution rich in it (carryOver in the plan)',
  'solution stability': 'no solution was read again in a later run',
  'native internal standard': 'no digestion was read without internal standard',
  'internal standard recovery': 'no internal standard was read',
  'check solution': 'no check solution with a nominal content was read',
  'total of oxides': 'no sample has results of all oxides of the plan',
  'weighing of the portion': 'the balance of the portions has no specification in the register',
  ruggedness:
    'no two-level design of deliberate changes with its analyte and unit is recorded (table factors, ruggedness in the plan)',
  homogeneity: 'no units of one sample were digested in duplicate',
  'sample trend': 'no run holds three digestions of samples that were also digested on other days',
  'trueness over the range':
    'fewer than three reference materials of different content that certify it were digested on several days',
  'second-source standard':
    'no solution made from a standard of another source, named in the plan and certified in the table of standards, was read',
  'matrix effect':
    'no series of at least four solutions with standard additions to a sample solution was read (table additions)',
  'method comparison': 'no results of another method on at least two samples are recorded (table comparison)',
  'shift after change': 'no control results before and after',
  'precision after change': 'no control results before and after',
};

/** Characteristics that a criterion for every analyte asks of each of them, not of those alone that were looked at. */
const ofEachAnalyte: readonly Characteristic[] = [
  'repeatability',
  'intermediate precision',
  'trueness',
  'recovery before fusion',
  'recovery after dissolution',
  'linearity',
  'limit of quantification',
  'procedure blank',
  'target uncertainty',
  'crucible memory',
  'carry-over',
  'solution stability',
  'check solution',
  'sample trend',
  'trueness over the range',
  'second-source standard',
  'matrix effect',
  'method comparison',
];

/** Characteristics that a criterion for every level asks of each level of the plan. */
const ofEachLevel: readonly Characteristic[] = [
  'repeatability',
  'intermediate precision',
  'target uncertainty',
];

/** Characteristics whose figures are relative to a result. */
const ofContent: readonly Characteristic[] = [
  ...ofEachLevel,
  'second line',
  'interference check',
  'crucible memory',
  'solution stability',
];

/** A *not studied* finding for whatever the criteria of the plan ask and no finding answers. */
export function missingFindings(study: EvaluatedStudy, found: readonly Finding[]): Finding[] {
  const { plan } = study.index.records;
  const missing = new Map<string, Finding>();
  for (const planned of plan.criteria) {
    const characteristic = characteristics.find((name) => name === planned.characteristic);
    if (characteristic === undefined || ofAnotherJob.includes(characteristic)) continue;
    for (const { analyte, level } of placesOf(study, characteristic, planned)) {
      const answered = found.some(
        (f) =>
          f.characteristic === characteristic &&
          (analyte === '*' || f.analyte === analyte) &&
          (level === '*' || f.level === level),
      );
      if (answered) continue;
      const criterion = criterionFor(plan, characteristic, analyte, level);
      const unit = criterion?.unit ?? planned.unit;
      const finding = notStudied(
        characteristic,
        { analyte, level, unit, criterion },
        reasonFor(study, characteristic, analyte, level),
      );
      missing.set(finding.id, finding);
    }
  }
  return [...missing.values()];
}

function placesOf(study: EvaluatedStudy, characteristic: Characteristic, planned: PlannedCriterion) {
  const asked = planned.analyte === '*' ? analytesAsked(study, characteristic) : [planned.analyte];
  const levels =
    planned.level === '*' && ofEachLevel.includes(characteristic)
      ? study.index.records.plan.levels.map((l) => l.level)
      : [planned.level];
  return (asked.length === 0 ? ['*'] : asked).flatMap((analyte) =>
    levels.map((level) => ({ analyte, level })),
  );
}

/** Analytes that a criterion for every analyte asks about; none where it asks about the method as a whole. */
function analytesAsked({ index }: EvaluatedStudy, characteristic: Characteristic): string[] {
  const { analytes, interferenceCheck } = index.records.plan;
  const names = (scopes: typeof analytes) => scopes.map((scope) => scope.analyte);
  if (ofEachAnalyte.includes(characteristic)) return names(analytes);
  if (characteristic === 'second line') return names(analytes.filter((scope) => scope.secondLineNm));
  if (characteristic !== 'interference check' || interferenceCheck === null) return [];
  const { solution, interferent } = interferenceCheck;
  return names(
    analytes.filter(
      ({ analyte, lineNm }) =>
        analyte !== interferent && index.bySolution.has(solutionKey(solution, analyte, lineNm)),
    ),
  );
}

function reasonFor(
  study: EvaluatedStudy,
  characteristic: Characteristic,
  analyte: string,
  level: string,
): string {
  const empty = study.index.records.plan.levels.find(({ level: name, sample }) => {
    const results = resultsOf(study, analyte, 'sample', sample);
    return (level === '*' || level === name) && results.length > 0 && !hasContent(results);
  });
  if (ofContent.includes(characteristic) && empty !== undefined) {
    return `the mean result of ${analyte} at level ${empty.level} is not above 0, so nothing is relative to it`;
  }
  return needs[characteristic] ?? 'the records hold no data on it';
}
