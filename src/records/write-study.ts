import { readdir } from 'node:fs/promises';
import { InputError } from '../errors.js';
import { type FolderContent, writeFolderWhole } from './atomic-write.js';
import { encodeCsv } from './csv/encode-csv.js';
import { equipmentShape } from './json/equipment-shape.js';
import { encodeJson } from './json/read-json.js';
import { studyPlanShape } from './json/study-plan-shape.js';
import { equipmentFile, planFile, workbookFile } from './study-folder.js';
import type { StudyRecords } from './study-records.js';
import { type RecordOf, studyTables, type TableName, tableNames } from './study-tables.js';
import { type EncodedTable, encodeTable } from './table-form/encode-table.js';
import { encodeWorkbook } from './xlsx/encode-workbook.js';

/** How a study is written. */
export interface WriteStudyOptions {
  /** One CSV file a table (the default), or one workbook with a sheet a table. */
  readonly form?: 'csv' | 'xlsx';
  /** Take the place of a study that is there. Only a folder that holds nothing else is replaced. */
  readonly replace?: boolean;
  /** Further files of the folder, such as a card. */
  readonly extraFiles?: FolderContent;
}

/**
 * Writes a study folder, whole or not at all: `study.json`, `equipment.json` and one CSV for each table that has rows.
 * The same records give the same bytes, and reading them gives the same records.
 *
 * @throws InputError a value that could not be read back; a folder that is there and not to be replaced, or that holds
 * files which are not of this study
 */
export async function writeStudy(
  folder: string,
  records: StudyRecords,
  options: WriteStudyOptions = {},
): Promise<void> {
  const study = options.form === 'xlsx' ? await encodeStudyWithWorkbook(records) : encodeStudy(records);
  const content = { ...study, ...options.extraFiles };
  if (options.replace === true) await requireNothingElse(folder, new Set(Object.keys(content)));
  await writeFolderWhole(folder, content, { replace: options.replace === true });
}

/**
 * The files of a study as texts, by name: one CSV a table that has rows.
 * @throws InputError a value that could not be read back
 */
export function encodeStudy(records: StudyRecords): Record<string, string> {
  const tables = encodeTables(records).map((table) => [`${table.name}.csv`, encodeCsv(table)]);
  return { ...encodeDocuments(records), ...Object.fromEntries(tables) };
}

/**
 * The files of a study, by name, with one workbook for all tables that have rows.
 * @throws InputError a value that could not be read back
 */
export async function encodeStudyWithWorkbook(records: StudyRecords): Promise<FolderContent> {
  return { ...encodeDocuments(records), [workbookFile]: await encodeWorkbook(encodeTables(records)) };
}

function encodeDocuments(records: StudyRecords): Record<string, string> {
  return {
    [planFile]: encodeJson(studyPlanShape, records.plan, planFile),
    [equipmentFile]: encodeJson(equipmentShape, records.equipment, equipmentFile),
  };
}

function encodeTables(records: StudyRecords): EncodedTable[] {
  return tableNames.filter((name) => records[name].length > 0).map((name) => encodeOne(name, records));
}

function encodeOne<N extends TableName>(name: N, records: StudyRecords): EncodedTable {
  const rows: readonly RecordOf<N>[] = records[name];
  return encodeTable(studyTables[name], rows);
}

/** A folder is replaced only where all it holds is written anew, or was a table of the old study. */
async function requireNothingElse(folder: string, written: ReadonlySet<string>): Promise<void> {
  const there = await readdir(folder, { recursive: true }).catch(() => []);
  const own = new Set([planFile, equipmentFile, workbookFile, ...tableNames.map((name) => `${name}.csv`)]);
  const others = there.filter((name) => !own.has(name) && !written.has(name.replaceAll('\\', '/')));
  if (others.length === 0) return;
  throw new InputError(
    `${folder}: found ${others.join(', ')}, expected only files of the study that is replaced`,
  );
}
