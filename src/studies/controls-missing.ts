import type { StudyRecords } from '../records/study-records.js';
import type { HistoryRecord } from '../records/tables/history.js';
import { mean } from '../statistics/descriptive/mean.js';
import { standardDeviation } from '../statistics/descriptive/standard-deviation.js';
import { controlResultsNeeded, leastControlResults } from '../validation/change/control-comparison.js';
import type { Criterion, Finding } from '../validation/finding.js';
import { notStudied } from '../validation/not-studied.js';
import { criterionFor } from './matrix/matrix-context.js';

/**
 * What cannot be said yet of an exchange, and how many control results it takes: of each analyte of the plan or under control
 * without a comparison, and of all in common where none was controlled on the equipment taken out.
 *
 * @param compared analytes whose control results before and after were compared
 */
export function withoutControls(
  records: StudyRecords,
  { replaced, replacement }: { readonly replaced: string; readonly replacement: string },
  compared: readonly string[],
): Finding[] {
  const before = records.history.filter((r) => r.equipment.includes(replaced));
  const after = records.history.filter(
    (r) => r.equipment.includes(replacement) && !r.equipment.includes(replaced),
  );
  const analytes = [
    ...new Set([...before.map((r) => r.analyte), ...records.plan.analytes.map((a) => a.analyte)]),
  ];
  const open =
    before.length === 0 && compared.length === 0 ? ['*'] : analytes.filter((a) => !compared.includes(a));
  return open.flatMap((analyte) => {
    const own = before.filter((r) => r.analyte === analyte);
    const later = after.filter((r) => r.analyte === analyte);
    const level = own[0]?.material ?? '*';
    const none = own.length === 0 && later.length === 0 && analyte !== '*';
    const counted = `${own.length} control results before and ${later.length} after the exchange are on record; with the other equipment unchanged there are fewer than 2 on a side, and a verdict needs at least ${leastControlResults} on each`;
    const found = none ? 'no control results of this analyte are on record' : counted;
    return (['shift after change', 'precision after change'] as const).map((characteristic) => {
      const criterion = criterionFor(records.plan, characteristic, analyte, level);
      const more = characteristic === 'shift after change' ? neededFor(own, criterion) : '';
      return notStudied(characteristic, { analyte, level, unit: '%', criterion }, found + more);
    });
  });
}

/** How many the shift takes by the scatter there was, where that is more than every verdict needs; else nothing. */
function neededFor(before: readonly HistoryRecord[], criterion: Criterion | null): string {
  // Results of other equipment than that of the last day may scatter about another mean.
  const last = before.reduce<HistoryRecord | null>((a, b) => (a === null || b.date >= a.date ? b : a), null);
  const same = before.filter(
    (r) => r.material === last?.material && r.equipment.join('|') === last.equipment.join('|'),
  );
  const values = same.map((r) => r.value);
  const scatter = values.length < 2 ? 0 : standardDeviation(values);
  if (!(scatter > 0)) return '';
  const options = { shiftCriterion: criterion, unit: same[0]!.unit };
  const needed = controlResultsNeeded(mean(values), scatter, options);
  return needed === null || needed <= leastControlResults
    ? ''
    : `; by the scatter before it, about ${needed} on each side show an unchanged mean with 90 % power`;
}
