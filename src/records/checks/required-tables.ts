import type { RecordIssue } from '../../errors.js';
import { studyTables, type TableName, tableNames } from '../study-tables.js';
import type { StudyView } from './study-view.js';

/** Without digestions, calibration and readings there is no result. */
export function checkRequiredTables(view: StudyView): void {
  for (const name of tableNames) {
    const table = view.study.tables[name];
    if (!studyTables[name].required || (table !== undefined && !table.isWhole)) continue;
    if (table !== undefined && table.records.length + table.broken.length > 0) continue;
    if (table !== undefined) view.issues.add(withoutRows(name, table.file));
    else view.issues.add({ ...withoutRows(name, `${name}.csv`), found: 'no such table' });
  }
}

/** A table that is required and has a heading alone. */
export function withoutRows(name: TableName, file: string): RecordIssue {
  const expected = `at least one row: ${studyTables[name].rowIs}`;
  return {
    code: 'missing table',
    file,
    row: null,
    column: null,
    found: 'no row below the heading',
    expected,
  };
}
