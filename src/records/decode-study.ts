import { join } from 'node:path';
import { sha256 } from './checksum.js';
import { type Refused, refused } from './column.js';
import { readCsvTable } from './csv/read-csv-table.js';
import type { DecodedStudy, SourceFile } from './decoded-study.js';
import type { IssueList } from './issue-list.js';
import { equipmentShape } from './json/equipment-shape.js';
import { decodeJson, statedDecimalMark } from './json/read-json.js';
import type { Shape } from './json/shape.js';
import { studyPlanShape } from './json/study-plan-shape.js';
import type { DecimalMark } from './number-reader.js';
import { sizeLimits } from './size-limits.js';
import {
  equipmentFile,
  fits,
  openStudyFolder,
  planFile,
  readStudyFile,
  type StudyFolder,
} from './study-folder.js';
import { type RecordOf, studyTables, type TableName } from './study-tables.js';
import type { DecodedTable } from './table-decoder.js';

/** Reads and decodes all files of a study, each by itself; every problem goes to `issues`. */
export async function decodeStudy(folder: string, issues: IssueList): Promise<DecodedStudy> {
  const opened = await openStudyFolder(folder, issues);
  const plan = await document(opened, planFile, studyPlanShape, issues);
  const equipment = await document(opened, equipmentFile, equipmentShape, issues);
  const decimalMark = plan.content === null ? null : statedDecimalMark(plan.content);
  const tables: MutableTables = {};
  const files: SourceFile[] = [...plan.files, ...equipment.files];
  for (const name of opened.tables)
    files.push(...(await csvTable(opened, name, decimalMark, tables, issues)));
  return {
    plan: plan.value === refused ? null : plan.value,
    equipment: equipment.value === refused ? null : equipment.value,
    tables,
    files,
  };
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
