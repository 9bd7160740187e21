import type { StudyRecords } from '../../records/study-records.js';
import type { Period } from '../sections/equipment-section.js';

/**
 * First and last day of the work: of the digestions, and of what else a report judges. The day of the plan stands where there is none.
 *
 * @param more further days, ISO dates
 */
export function periodOfWork({ plan, digestions }: StudyRecords, more: readonly string[] = []): Period {
  const days = [...digestions.map(({ day }) => day), ...more].sort();
  return { firstDay: days[0] ?? plan.planDate, lastDay: days.at(-1) ?? plan.planDate };
}
