import type { StudyRecords } from '../records/study-records.js';
import type { Finding } from '../validation/finding.js';
import { notStudied } from '../validation/not-studied.js';
import { criterionFor } from './matrix/matrix-context.js';

/**
 * What cannot be said yet of an exchange: of each analyte that was controlled on the equipment taken out, and of all in common
 * where none was.
 *
 * @param compared analytes whose control results before and after were compared
 */
export function withoutControls(
  records: StudyRecords,
  replaced: string,
  compared: readonly string[],
): Finding[] {
  const before = records.history.filter((r) => r.equipment.includes(replaced));
  const analytes = [...new Set(before.map((r) => r.analyte))];
  const open =
    analytes.length === 0 && compared.length === 0 ? ['*'] : analytes.filter((a) => !compared.includes(a));
  return open.flatMap((analyte) => {
    const own = before.filter((r) => r.analyte === analyte);
    const level = own[0]?.material ?? '*';
    const missing = `fewer than 2 control results before or after the exchange are on record with the other equipment unchanged (${own.length} before it in all); with 2 or more each, the finding says how many show it`;
    return (['shift after change', 'precision after change'] as const).map((characteristic) =>
      notStudied(
        characteristic,
        { analyte, level, unit: '%', criterion: criterionFor(records.plan, characteristic, analyte, level) },
        missing,
      ),
    );
  });
}
