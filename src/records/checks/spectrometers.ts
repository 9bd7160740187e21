import { dateOf } from '../dates.js';
import type { EquipmentRecord } from '../study.js';
import { equipmentFile } from '../study-folder.js';
import type { StudyView } from './study-view.js';

/** Every reading was made while a spectrometer of the register was in service and under certificate. */
export function checkSpectrometers(view: StudyView): void {
  const { equipment } = view.study;
  if (equipment === null) return;
  const known = new Map<string, string | null>();
  view.each('readings', ({ time }) => {
    const day = dateOf(time);
    const problem = known.has(day) ? known.get(day)! : spectrometerProblem(equipment, day);
    known.set(day, problem);
    return problem === null ? null : { code: 'spectrometer', field: 'time', found: day, expected: problem };
  });
}

/** What was expected of a day of readings instead; null where nothing is wrong, or the register names no spectrometer. */
export function spectrometerProblem(equipment: readonly EquipmentRecord[], day: string): string | null {
  const all = equipment.filter(({ kind }) => kind === 'spectrometer');
  if (all.length === 0) return null;
  const inService = all.filter(
    ({ inServiceFrom, inServiceTo }) => inServiceFrom <= day && (inServiceTo === null || day <= inServiceTo),
  );
  if (inService.length === 0) {
    const periods = all.map(
      ({ id, inServiceFrom, inServiceTo }) =>
        `${id} from ${inServiceFrom} ${inServiceTo === null ? 'on' : `to ${inServiceTo}`}`,
    );
    return `a day on which a spectrometer of ${equipmentFile} is in service (${periods.join(', ')})`;
  }
  if (inService.some(({ calibratedOn, dueOn }) => calibratedOn <= day && day <= dueOn)) return null;
  const certificates = inService.map(({ id, calibratedOn, dueOn }) => `${id}: ${calibratedOn} to ${dueOn}`);
  return `a day on which the certificate of a spectrometer in service holds (${certificates.join(', ')})`;
}
