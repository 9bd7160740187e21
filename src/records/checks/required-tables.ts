import { studyTables, tableNames } from '../study-tables.js';
import type { StudyView } from './study-view.js';

/** Without digestions, calibration and readings there is no result. */
export function checkRequiredTables(view: StudyView): void {
  for (const name of tableNames) {
    const table = view.study.tables[name];
    if (!studyTables[name].required || (table !== undefined && !table.isWhole)) continue;
    if (table !== undefined && table.records.length + table.broken.length > 0) continue;
    const found = table === undefined ? 'no such table' : 'no row below the heading';
    const expected = `at least one row: ${studyTables[name].rowIs}`;
    const file = table?.file ?? `${name}.csv`;
    view.issues.add({ code: 'missing table', file, row: null, column: null, found, expected });
  }
}
