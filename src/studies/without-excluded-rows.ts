import type { StudyRecords } from '../records/study-records.js';
import { type RecordOf, studyTables, type TableName } from '../records/study-tables.js';
import { rowKey } from '../records/table-form/table.js';

/**
 * Records without the rows that the table of exclusions names. Digestions stay, for their masses and their place in the
 * sequence are still needed (the next digestion in the crucible follows them); their results are left out by `usable`.
 */
export function withoutExcludedRows(records: StudyRecords): StudyRecords {
  return {
    ...records,
    dilutions: kept(records, 'dilutions'),
    calibration: kept(records, 'calibration'),
    standards: kept(records, 'standards'),
    readings: kept(records, 'readings'),
    references: kept(records, 'references'),
    spikes: kept(records, 'spikes'),
    additions: kept(records, 'additions'),
    comparison: kept(records, 'comparison'),
    moisture: kept(records, 'moisture'),
    interference: kept(records, 'interference'),
    factors: kept(records, 'factors'),
    homogeneity: kept(records, 'homogeneity'),
    history: kept(records, 'history'),
    rounds: kept(records, 'rounds'),
  };
}

function kept<N extends TableName>(records: StudyRecords, name: N): readonly RecordOf<N>[] {
  const rows: readonly RecordOf<N>[] = records[name];
  const keys = new Set(records.exclusions.filter((e) => e.table === name).map((e) => e.rowKey));
  // Naming 20,000 readings takes longer than the rest of an evaluation; most studies exclude none.
  return keys.size === 0
    ? rows
    : rows.filter((row) => !keys.has(rowKey<RecordOf<N>>(studyTables[name], row)));
}
