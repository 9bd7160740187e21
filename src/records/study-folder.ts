import { lstat, readdir, readFile, realpath } from 'node:fs/promises';
import { join } from 'node:path';
import { InputError } from '../errors.js';
import type { IssueList } from './issue-list.js';
import { type TableName, tableNames } from './study-tables.js';

/** Names a study folder gives meaning to; all other names are left alone unless they look like tables. */
export const planFile = 'study.json';
export const equipmentFile = 'equipment.json';
export const workbookFile = 'tables.xlsx';

/** A study folder that was looked over: which files there are to read. */
export interface StudyFolder {
  /** Real path, links resolved. */
  readonly path: string;
  readonly tables: readonly TableName[];
  readonly hasWorkbook: boolean;
}

/**
 * Looks over a study folder. A link, a folder in a file's place, a table of unknown name and a second workbook are
 * issues: none of them is read, so nothing outside the folder can be.
 * @throws InputError there is no such folder
 */
export async function openStudyFolder(folder: string, issues: IssueList): Promise<StudyFolder> {
  const path = await realpath(folder).catch(() => {
    throw new InputError(`study: found nothing at ${folder}, expected a folder with ${planFile}`);
  });
  const entries = await readdir(path, { withFileTypes: true }).catch(() => {
    throw new InputError(`study: found a file at ${folder}, expected a folder with ${planFile}`);
  });
  const found = new Set<string>();
  for (const entry of entries.sort((a, b) => (a.name < b.name ? -1 : 1))) {
    const { name } = entry;
    const isTable = /\.(csv|tsv|xlsx|xlsm|xlsb|xls|ods)$/i.test(name) && !/^[.~]/.test(name);
    if (!isTable && name !== planFile && name !== equipmentFile) continue;
    const isKnown = !isTable || name === workbookFile || tableNames.some((each) => name === `${each}.csv`);
    if (!isKnown) issues.add(fileIssue(name, 'a table of this name', expectedTables()));
    else if (!entry.isFile())
      issues.add(fileIssue(name, 'a link or folder', 'a file inside the study folder'));
    else found.add(name);
  }
  return {
    path,
    tables: tableNames.filter((each) => found.has(`${each}.csv`)),
    hasWorkbook: found.has(workbookFile),
  };
}

/** Reads a whole file of the study, or says why not: `null` where it is absent, linked or too large. */
export async function readStudyFile(
  folder: StudyFolder,
  file: string,
  mostBytes: number,
  issues: IssueList,
): Promise<Uint8Array | null> {
  return (await fits(folder, file, mostBytes, issues)) ? readFile(join(folder.path, file)) : null;
}

/** True where the file is an ordinary file of at most so many bytes; else an issue is added. */
export async function fits(
  folder: StudyFolder,
  file: string,
  mostBytes: number,
  issues: IssueList,
): Promise<boolean> {
  const state = await lstat(join(folder.path, file)).catch(() => null);
  if (state === null || !state.isFile()) {
    issues.add(fileIssue(file, 'no such file', `a file ${file} in the study folder`));
    return false;
  }
  if (state.size <= mostBytes) return true;
  issues.add(fileIssue(file, `${state.size} bytes`, `at most ${mostBytes} bytes`));
  return false;
}

function expectedTables(): string {
  return `${tableNames.map((name) => `${name}.csv`).join(', ')} or ${workbookFile}`;
}

function fileIssue(file: string, found: string, expected: string) {
  return { code: 'file', file, row: null, column: null, found, expected };
}
