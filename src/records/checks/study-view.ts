import type { DecodedStudy } from '../decoded-study.js';
import type { IssueList } from '../issue-list.js';
import { type RecordOf, studyTables, type TableName } from '../study-tables.js';
import type { DecodedTable } from '../table-form/table-decoder.js';
import { addCellProblem, type CellProblem } from './cell-problem.js';

/** What a row check may say: nothing, or what is wrong with one cell. */
export type RowVerdict<R> = CellProblem<R> | null | undefined;

/** A decoded study as the checks see it. */
export class StudyView {
  readonly study: DecodedStudy;
  readonly issues: IssueList;
  readonly #values = new Map<string, ReadonlySet<unknown>>();

  constructor(study: DecodedStudy, issues: IssueList) {
    this.study = study;
    this.issues = issues;
  }

  table<N extends TableName>(name: N): DecodedTable<RecordOf<N>> | undefined {
    return this.study.tables[name];
  }

  records<N extends TableName>(name: N): readonly RecordOf<N>[] {
    return this.table(name)?.records ?? [];
  }

  /** True where rows of the table were given and all of them could be told apart: only then is a missing row a problem. */
  isComplete(name: TableName): boolean {
    const table = this.study.tables[name];
    return table?.isWhole === true && table.records.length + table.broken.length > 0;
  }

  /** True where nothing of the table can have been lost: it is complete, or was not given at all. */
  isCompleteOrAbsent(name: TableName): boolean {
    return this.study.tables[name] === undefined || this.study.tables[name].isWhole;
  }

  /** Records of a table and what could be read of its broken rows. */
  withBroken<N extends TableName>(name: N): readonly Partial<RecordOf<N>>[] {
    const table: DecodedTable<RecordOf<N>> | undefined = this.study.tables[name];
    return table === undefined ? [] : [...table.records, ...table.broken];
  }

  /** Values of one field, broken rows included. Many checks ask for the same ones. */
  values<N extends TableName, F extends keyof RecordOf<N> & string>(
    name: N,
    field: F,
  ): ReadonlySet<RecordOf<N>[F]> {
    const key = `${name}|${field}`;
    // The key tells table and field, and so the kind of value.
    const known = this.#values.get(key) as ReadonlySet<RecordOf<N>[F]> | undefined;
    if (known !== undefined) return known;
    const values = new Set<RecordOf<N>[F]>();
    this.#values.set(key, values);
    const table: DecodedTable<RecordOf<N>> | undefined = this.study.tables[name];
    if (table === undefined) return values;
    for (const record of table.records) values.add(record[field]);
    for (const record of table.broken) {
      const value: RecordOf<N>[F] | undefined = record[field];
      if (value !== undefined) values.add(value);
    }
    return values;
  }

  /** Judges each record of a table. */
  each<N extends TableName>(name: N, judge: (record: RecordOf<N>) => RowVerdict<RecordOf<N>>): void {
    const table: DecodedTable<RecordOf<N>> | undefined = this.study.tables[name];
    if (table === undefined) return;
    table.records.forEach((record, index) => {
      const problem = judge(record);
      if (problem) addCellProblem(studyTables[name], table, index, problem, this.issues);
    });
  }

  /** Adds a problem of a document; `path` is the path of the key. */
  refuseKey(file: string, path: string, found: string, expected: string): void {
    this.issues.add({ code: 'key', file, row: null, column: path, found, expected });
  }
}
