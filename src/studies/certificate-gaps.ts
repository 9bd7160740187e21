import type { EquipmentRecord } from '../records/study.js';
import type { HistoryRecord } from '../records/tables/history.js';

/** Control runs on a piece of equipment that are older than its calibration in the register. */
export interface CertificateGap {
  readonly equipment: string;
  readonly certificate: string;
  /** Day of the calibration in the register, ISO date. */
  readonly calibratedOn: string;
  /** First and last day of the older runs, ISO dates. */
  readonly firstDay: string;
  readonly lastDay: string;
  /** Number of the older runs, of all `runs` on this equipment. */
  readonly older: number;
  readonly runs: number;
}

/**
 * Equipment whose state of calibration on the days of some control results is not on file: the register holds one
 * certificate of each, and these results are older.
 *
 * @param history control results that something rests on; results of one run and day count once
 * @returns in the order of the register
 * @see ISO/IEC 17025:2017, 6.4.13 e
 */
export function certificateGaps(
  equipment: readonly EquipmentRecord[],
  history: readonly HistoryRecord[],
): CertificateGap[] {
  return equipment.flatMap(({ id, certificate, calibratedOn }) => {
    const days = daysOfRuns(history.filter((row) => row.equipment.includes(id)));
    const older = days.filter((day) => day < calibratedOn);
    const [firstDay, lastDay] = [older[0], older.at(-1)];
    return firstDay === undefined || lastDay === undefined
      ? []
      : [
          {
            equipment: id,
            certificate,
            calibratedOn,
            firstDay,
            lastDay,
            older: older.length,
            runs: days.length,
          },
        ];
  });
}

/** Day of each run, in order of time. */
function daysOfRuns(history: readonly HistoryRecord[]): string[] {
  return [...new Map(history.map((row) => [JSON.stringify([row.date, row.run]), row.date])).values()].sort();
}
