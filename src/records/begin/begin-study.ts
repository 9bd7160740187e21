import { readFile } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { InputError } from '../../errors.js';
import { writeFolderWhole } from '../atomic-write.js';
import { encodeCsv } from '../csv/encode-csv.js';
import { isErrorWithCode } from '../error-code.js';
import { equipmentFile, planFile } from '../study-folder.js';
import { studyTables, type TableName, tableNames } from '../study-tables.js';
import { blankDocument } from './blank-document.js';
import { describedColumns, type ExampleRows, studyGuide } from './study-guide.js';

/** What a new study is made from. */
export interface BeginStudyOptions {
  /** Folder of an example study: form of its documents and first rows of its tables. */
  readonly example: string;
  readonly cautionRule: string;
  readonly cautions: readonly string[];
}

/**
 * Begins a study: plan and register to be filled in, every table with its headings, and a guide with a worked row each.
 *
 * @returns names of the files written
 * @throws InputError the folder exists and is not empty
 */
export async function beginStudy(folder: string, options: BeginStudyOptions): Promise<string[]> {
  const { example, cautionRule, cautions } = options;
  const plan = JSON.parse(await readFile(join(example, planFile), 'utf8')) as Record<string, unknown>;
  const equipment: unknown = JSON.parse(await readFile(join(example, equipmentFile), 'utf8'));
  const blank = blankDocument(plan, ['schema']) as Record<string, unknown>;
  const files: Record<string, string> = {
    [planFile]: document({ ...blank, study: basename(folder), invented: false }),
    [equipmentFile]: document(blankDocument(equipment)),
    'README.md': studyGuide(await exampleRows(example), cautionRule, cautions),
  };
  for (const name of tableNames) files[`${name}.csv`] = headings(name);
  await writeFolderWhole(folder, files);
  return Object.keys(files);
}

function document(content: unknown): string {
  return `${JSON.stringify(content, null, 2)}\n`;
}

function headings(name: TableName): string {
  const open = Object.entries(studyTables[name].columns).filter(([, column]) => column.kind === 'open');
  const columns = describedColumns(name)
    .map((c) => c.heading)
    .filter((h) => !open.some(([field]) => field === h));
  return encodeCsv({ name, headings: columns, rows: [] });
}

async function exampleRows(folder: string): Promise<ExampleRows> {
  const rows: Partial<Record<TableName, { heading: string; row: string }>> = {};
  for (const name of tableNames) {
    const text = await readFile(join(folder, `${name}.csv`), 'utf8').catch((error: unknown) => {
      if (isErrorWithCode(error, 'ENOENT')) return null;
      throw new InputError(`${folder}: table ${name} cannot be read`, { cause: error });
    });
    const [heading, row] = text?.split(/\r?\n/) ?? [];
    if (heading !== undefined && row !== undefined && row !== '') rows[name] = { heading, row };
  }
  return rows;
}
