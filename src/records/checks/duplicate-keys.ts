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
  if (hasPlainlyUniqueKeys(table, records)) return;
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

/**
 * True where no two records agree in all key fields and no value holds the bar that joins them: told by numbers in place
 * of each value, with no text made for a row.
 */
function hasPlainlyUniqueKeys<R>({ key }: Table<R>, records: readonly R[]): boolean {
  const keys = new Float64Array(records.length);
  let size = 1;
  for (const field of key) {
    const codes = new Map<unknown, number>();
    const codeOfRow = new Int32Array(records.length);
    if (!fillCodes(codeOfRow, codes, records, field)) return false;
    appendCodes(keys, codeOfRow, codes.size);
    size *= codes.size;
    if (size > Number.MAX_SAFE_INTEGER) return false;
  }
  return !hasEqualNeighbours(keys.sort());
}

/** A number for each different value of a field; false where one holds a bar. */
function fillCodes<R>(
  codeOfRow: Int32Array,
  codes: Map<unknown, number>,
  records: readonly R[],
  field: keyof R & string,
): boolean {
  for (let i = 0; i < records.length; i++) {
    const value = records[i]![field];
    let code = codes.get(value);
    if (code === undefined) {
      if (typeof value === 'string' && value.includes('|')) return false;
      code = codes.size;
      codes.set(value, code);
    }
    codeOfRow[i] = code;
  }
  return true;
}

function appendCodes(keys: Float64Array, codeOfRow: Int32Array, codes: number): void {
  for (let i = 0; i < keys.length; i++) keys[i] = keys[i]! * codes + codeOfRow[i]!;
}

function hasEqualNeighbours(keys: Float64Array): boolean {
  for (let i = 1; i < keys.length; i++) if (keys[i] === keys[i - 1]) return true;
  return false;
}
