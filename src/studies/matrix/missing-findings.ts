import type { StudyPlan } from '../../records/study.js';
import { type Characteristic, characteristics } from '../../validation/characteristic.js';
import type { Finding } from '../../validation/finding.js';
import { notStudied } from '../../validation/not-studied.js';

/** Criteria about an exchange of equipment; they are judged by that job, not by the validation of a matrix. */
const ofAnotherJob: readonly Characteristic[] = ['shift after change', 'precision after change'];

/** Data that each characteristic rests on, in words for a reader who asks why it is not studied. */
const needs: Readonly<Partial<Record<Characteristic, string>>> = {
  repeatability: 'No level has results on at least two days with two digestions on one of them.',
  'intermediate precision': 'No level has results on at least two days with two digestions on one of them.',
  trueness: 'No reference material that certifies it was digested.',
  'recovery before fusion': 'No addition before fusion is recorded with its unspiked partner.',
  'recovery after dissolution': 'No addition after dissolution is recorded with its unspiked partner.',
  linearity: 'It was not calibrated.',
  'limit of quantification': 'No procedure blank was read.',
  'procedure blank': 'No procedure blank was read.',
  'target uncertainty': 'No level has the repeated results that a budget rests on.',
  'second line': 'No second line was read.',
  'interference check': 'No solution of the interferent alone was read.',
  'crucible memory': 'No blank was digested after a rich sample in the same crucible.',
  'solution stability': 'No solution was read again in a later run.',
  'native internal standard': 'No digestion was read without internal standard.',
  'internal standard recovery': 'No internal standard was read.',
  'check solution': 'No check solution with a nominal content was read.',
  'total of oxides': 'No sample has results of all oxides of the plan.',
  'weighing of the portion': 'The balance of the portions has no specification in the register.',
  'shift after change': 'No control results before and after.',
  'precision after change': 'No control results before and after.',
};

/** A *not studied* finding for every criterion of the plan that no finding answers. */
export function missingFindings(plan: StudyPlan, found: readonly Finding[]): Finding[] {
  return plan.criteria.flatMap((criterion) => {
    const characteristic = characteristics.find((name) => name === criterion.characteristic);
    if (characteristic === undefined || ofAnotherJob.includes(characteristic)) return [];
    const answered = found.some(
      (f) =>
        f.characteristic === characteristic &&
        (criterion.analyte === '*' || f.analyte === criterion.analyte) &&
        (criterion.level === '*' || f.level === criterion.level),
    );
    if (answered) return [];
    const { analyte, level, kind, limit, lower, unit, reason, owner } = criterion;
    return [
      notStudied(
        characteristic,
        {
          analyte,
          level,
          unit,
          criterion: { kind, limit, ...(lower === undefined ? {} : { lower }), unit, reason, owner },
        },
        needs[characteristic] ?? 'The records hold no data on it.',
      ),
    ];
  });
}
