import type { ReadingRecord } from '../tables/readings.js';
import { excludedReadings, readingKey } from './excluded-readings.js';
import type { StudyView } from './study-view.js';

const field = 'internalStandardIntensity';

/**
 * Every reading of an analyte has its intensity of the internal standard: without one it would enter as counts where the others
 * enter as ratios, a hundred thousand times as large. The element of the internal standard itself may be read without, to find a
 * native amount; then all its readings of the run are, standards and digestions alike. An excluded reading needs none.
 */
export function checkInternalStandardReadings(view: StudyView): void {
  const { plan } = view.study;
  if (plan === null) return;
  const { element } = plan.internalStandard;
  const excluded = excludedReadings(view);
  const isUsed = (record: ReadingRecord) => excluded.size === 0 || !excluded.has(readingKey(record));
  const runsWith = new Set<string>();
  for (const record of view.records('readings')) {
    if (record.analyte === element && record[field] !== null && isUsed(record)) runsWith.add(record.run);
  }
  view.each('readings', (record) => {
    const { analyte, run } = record;
    if (record[field] !== null || !isUsed(record)) return null;
    if (analyte === element && !runsWith.has(run)) return null;
    const expected =
      analyte === element
        ? `an intensity, as other readings of ${element} in run ${run} have one: all of them or none`
        : `an intensity of ${element} with each reading of ${analyte}, or an exclusion of the reading with its technical cause`;
    return { code: 'internal standard', field, found: 'an empty cell', expected };
  });
}
