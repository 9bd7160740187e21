import { rowKey } from '../table-form/table.js';
import { type ReadingRecord, readingTable } from '../tables/readings.js';
import type { StudyView } from './study-view.js';

/** Keys of the readings that the table of exclusions leaves out. */
export function excludedReadings(view: StudyView): Set<string> {
  return new Set(
    view.records('exclusions').flatMap((each) => (each.table === 'readings' ? [each.rowKey] : [])),
  );
}

/** Key of a reading, as an exclusion names it. */
export function readingKey(record: ReadingRecord): string {
  return rowKey(readingTable, record);
}
