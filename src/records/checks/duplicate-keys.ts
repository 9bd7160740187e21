import type { DecodedStudy } from '../decoded-study.js';
import { type IssueList, quoteFound } from '../issue-list.js';
import { type RecordOf, studyTables, type TableName, tableNames } from '../study-tables.js';
import { headingOf, rowKey, type Table } from '../table-form/table.js';
import type { DecodedTable } from '../table-form/table-decoder.js';

/** A row whose key an earlier row of the same table bears. */
export function checkDuplicateKeys(study: DecodedStudy, issues: IssueList): void {
  const check = <N extends TableName>(name: N) => {
    const table: DecodedTable<RecordOf<N>> | undefined = study.tables[name];
    if (table !== undefined) checkTable(studyTables[name], table, issues);
  };
  for (const name of tableNames) check(name);
}

function checkTable<R>(table: Table<R>, { file, records, rows }: DecodedTable<R>, issues: IssueList): void {
  const first = new Map<string, number>();
  records.forEach((record, i) => {
    const key = rowKey(table, record);
    const row = rows[i]!;
    const earlier = first.get(key);
    if (earlier === undefined) {
      first.set(key, row);
      return;
    }
    const column = table.key.map((field) => headingOf(table, field)).join(', ');
    const expected = `a key that no other row bears (row ${earlier} has it)`;
    issues.add({ code: 'duplicate', file, row, column, found: quoteFound(key), expected });
  });
}
