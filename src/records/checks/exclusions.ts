import { quoteFound } from '../issue-list.js';
import { type RecordOf, studyTables, type TableName, tableNames } from '../study-tables.js';
import { headingOf, rowKey, type Table } from '../table-form/table.js';
import type { RowVerdict, StudyView } from './study-view.js';

/** An exclusion names a table and a row that exist; `D-013|Ca` may leave out one analyte of a digestion. */
export function checkExclusions(view: StudyView): void {
  const keys = new Map<TableName, ReadonlySet<string>>();
  view.each('exclusions', ({ table, rowKey: key }): RowVerdict<RecordOf<'exclusions'>> => {
    const name = tableNames.find((each) => each === table && each !== 'exclusions');
    if (name === undefined) {
      const expected = `one of: ${tableNames.filter((each) => each !== 'exclusions').join(', ')}`;
      return { code: 'unknown table', field: 'table', expected };
    }
    const known = keys.get(name) ?? keysOf(view, name);
    keys.set(name, known);
    if (known.has(key) || !view.isCompleteOrAbsent(name)) return null;
    if (name === 'digestions') return digestionVerdict(view, known, key);
    return unknownRow(name);
  });
}

/** @param found keys of the excluded readings that there are */
export function checkExcludedReadings(view: StudyView, found: ReadonlySet<string>): void {
  view.each('exclusions', ({ table, rowKey: key }) =>
    table === 'readings' && !found.has(key) ? unknownRow('readings') : null,
  );
}

function unknownRow(name: TableName): RowVerdict<RecordOf<'exclusions'>> {
  const form = keyHeadings(name);
  return { code: 'unknown row', field: 'rowKey', expected: `the key of a row of ${name} (${form})` };
}

function digestionVerdict(
  view: StudyView,
  known: ReadonlySet<string>,
  key: string,
): RowVerdict<RecordOf<'exclusions'>> {
  const bar = key.lastIndexOf('|');
  const { plan } = view.study;
  if (!known.has(key.slice(0, Math.max(bar, 0)))) {
    return {
      code: 'unknown row',
      field: 'rowKey',
      expected: 'a digestion of the table digestions, or digestion|analyte',
    };
  }
  const analyte = key.slice(bar + 1);
  if (plan === null || plan.analytes.some((each) => each.analyte === analyte)) return null;
  const expected = `an analyte of the plan after the bar: ${plan.analytes.map((each) => each.analyte).join(', ')}`;
  return { code: 'unknown analyte', field: 'rowKey', found: quoteFound(key), expected };
}

/** Headings of the key columns, as a row key joins them. */
function keyHeadings<N extends TableName>(name: N): string {
  const table: Table<RecordOf<N>> = studyTables[name];
  return table.key.map((field) => headingOf(table, field)).join('|');
}

/** Keys of the rows of a table; of broken rows those whose key could be read. */
function keysOf<N extends TableName>(view: StudyView, name: N): ReadonlySet<string> {
  const table = studyTables[name];
  const keys = new Set<string>();
  for (const record of view.records(name)) keys.add(rowKey<RecordOf<N>>(table, record));
  for (const record of view.table(name)?.broken ?? []) {
    keys.add(table.key.map((field) => String(record[field])).join('|'));
  }
  return keys;
}
