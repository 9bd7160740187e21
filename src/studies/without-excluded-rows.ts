import type { StudyRecords } from '../records/study-records.js';
import { type RecordOf, studyTables, type TableName, tableNames } from '../records/study-tables.js';
import { rowKey } from '../records/table-form/table.js';

/** Tables that keep every row: digestions for the reason below, exclusions because they name the rows. */
const keptWhole: readonly TableName[] = ['digestions', 'exclusions'];

/**
 * Records without the rows that the table of exclusions names. Digestions stay, for their masses and their place in the
 * sequence are still needed (the next digestion in the crucible follows them); their results are left out by `usable`.
 */
export function withoutExcludedRows(records: StudyRecords): StudyRecords {
  const tables = tableNames.filter((name) => !keptWhole.includes(name));
  return { ...records, ...Object.fromEntries(tables.map((name) => [name, kept(records, name)])) };
}

function kept<N extends TableName>(records: StudyRecords, name: N): readonly RecordOf<N>[] {
  const rows: readonly RecordOf<N>[] = records[name];
  const keys = new Set(records.exclusions.filter((e) => e.table === name).map((e) => e.rowKey));
  // Naming 20,000 readings takes longer than the rest of an evaluation; most studies exclude none.
  return keys.size === 0
    ? rows
    : rows.filter((row) => !keys.has(rowKey<RecordOf<N>>(studyTables[name], row)));
}
