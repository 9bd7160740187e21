import type { ExclusionRecord } from '../../records/tables/exclusions.js';
import { type ScheduledDigestion, scoopSpoilt } from '../digestion-schedule.js';

/** Calcium of the blanks whose flux came from the contaminated scoop. */
export function exclusionRecords(
  schedule: readonly ScheduledDigestion[],
  calciumBlanksUsable: 4 | 12,
): ExclusionRecord[] {
  return schedule
    .filter((digestion) => scoopSpoilt(digestion, calciumBlanksUsable))
    .map(({ digestion }) => ({
      table: 'digestions',
      rowKey: `${digestion}|Ca`,
      who: 'S. Varrendale',
      when: '2026-03-17',
      technicalCause:
        'Flux of this blank was taken with scoop 3, found to carry lime dust; samples were fused with flux from scoop 1',
    }));
}
