import { join } from 'node:path';
import { sha256 } from './checksum.js';
import { readCsvTable } from './csv/read-csv-table.js';
import type { DecodedStudy, SourceFile } from './decoded-study.js';
import { type IssueList, quoteFound } from './issue-list.js';
import { equipmentShape } from './json/equipment-shape.js';
import { decodeJson, statedDecimalMark } from './json/read-json.js';
import type { Shape } from './json/shape.js';
import { studyPlanShape } from './json/study-plan-shape.js';
import { sizeLimits } from './size-limits.js';
import type { StudyPlan } from './study.js';
import {
  equipmentFile,
  fits,
  openStudyFolder,
  planFile,
  readStudyFile,
  type StudyFolder,
  workbookFile,
} from './study-folder.js';
import { type RecordOf, studyTables, type TableName, tableNames } from './study-tables.js';
import { type Refused, refused } from './table-form/column.js';
import type { DecimalMark } from './table-form/number-reader.js';
import type { DecodedTable } from './table-form/table-decoder.js';
import { decodeSheet } from './xlsx/decode-sheet.js';
import { readWorkbook, type Sheet } from './xlsx/read-workbook.js';

/**
 * Reads and decodes all files of a study, each by itself; every problem goes to `issues`.
 * @param leftOut tables that are not read
 */
export async function decodeStudy(
  folder: string,
  issues: IssueList,
  leftOut: readonly string[] = [],
): Promise<DecodedStudy> {
  const opened = await openStudyFolder(folder, issues);
  const plan = await document(opened, planFile, studyPlanShape, issues);
  const equipment = await document(opened, equipmentFile, equipmentShape, issues);
  const decimalMark = plan.content === null ? null : statedDecimalMark(plan.content);
  const tables: MutableTables = {};
  const files: SourceFile[] = [...plan.files, ...equipment.files];
  for (const name of opened.tables.filter((each) => !leftOut.includes(each)))
    files.push(...(await csvTable(opened, name, decimalMark, tables, issues)));
  if (opened.hasWorkbook) files.push(...(await workbookTables(opened, decimalMark, tables, issues)));
  return {
    plan: plan.value === refused ? null : plan.value,
    equipment: equipment.value === refused ? null : equipment.value,
    tables,
    files,
  };
}

/** Reads and decodes `study.json` alone. */
export async function decodePlan(
  folder: string,
  issues: IssueList,
): Promise<{ readonly plan: StudyPlan | null; readonly files: readonly SourceFile[] }> {
  const read = await document(await openStudyFolder(folder, issues), planFile, studyPlanShape, issues);
  return { plan: read.value === refused ? null : read.value, files: read.files };
}

type MutableTables = { [N in TableName]?: DecodedTable<RecordOf<N>> };

interface ReadDocument<T> {
  readonly value: T | Refused;
  readonly content: Uint8Array | null;
  readonly files: readonly SourceFile[];
}

async function document<T>(
  folder: StudyFolder,
  file: string,
  shape: Shape<T>,
  issues: IssueList,
): Promise<ReadDocument<T>> {
  const content = await readStudyFile(folder, file, sizeLimits.jsonBytes, issues);
  if (content === null) return { value: refused, content, files: [] };
  const value = decodeJson(shape, content, file, issues);
  return { value, content, files: [{ file, rows: null, sha256: sha256(content) }] };
}

async function csvTable<N extends TableName>(
  folder: StudyFolder,
  name: N,
  decimalMark: DecimalMark | null,
  tables: MutableTables,
  issues: IssueList,
): Promise<readonly SourceFile[]> {
  const file = `${name}.csv`;
  if (!(await fits(folder, file, sizeLimits.csvBytes, issues))) return [];
  const read = await readCsvTable(studyTables[name], join(folder.path, file), file, decimalMark, issues);
  Object.assign(tables, { [name]: read.table });
  const { records, broken } = read.table;
  return [{ file, rows: records.length + broken.length, sha256: read.sha256 }];
}

async function workbookTables(
  folder: StudyFolder,
  decimalMark: DecimalMark | null,
  tables: MutableTables,
  issues: IssueList,
): Promise<readonly SourceFile[]> {
  const workbook = await readWorkbook(folder, issues);
  if (workbook === null) return [];
  const files: SourceFile[] = [{ file: workbookFile, rows: null, sha256: workbook.sha256 }];
  for (const sheet of workbook.sheets) {
    const refuse = (found: string, expected: string) =>
      issues.add({ code: 'sheet', file: workbookFile, row: null, column: null, found, expected });
    const name = tableNames.find((each) => each === sheet.name.trim());
    if (name === undefined) {
      if (sheet.rows.length > 0)
        refuse(`a sheet ${quoteFound(sheet.name)}`, `one of: ${tableNames.join(', ')}`);
    } else if (tables[name] !== undefined) {
      refuse(`a sheet "${name}" beside ${name}.csv`, 'each table once');
    } else {
      const file = `${workbookFile}, sheet ${name}`;
      const rows = sheetTable(name, sheet, file, decimalMark, tables, issues);
      files.push({ file, rows, sha256: workbook.sha256, sheetOf: workbookFile });
    }
  }
  return files;
}

function sheetTable<N extends TableName>(
  name: N,
  sheet: Sheet,
  file: string,
  decimalMark: DecimalMark | null,
  tables: MutableTables,
  issues: IssueList,
): number {
  const table = decodeSheet(studyTables[name], sheet, file, decimalMark, issues);
  Object.assign(tables, { [name]: table });
  return table.records.length + table.broken.length;
}
