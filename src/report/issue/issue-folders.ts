import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { InputError } from '../../errors.js';
import { isErrorWithCode } from '../../records/error-code.js';

/** Folder of a study that holds runs which failed: outside numbers and ledger. */
export const failedName = 'failed';

/** Folder of a study that holds what a notebook run by hand wrote: outside numbers and ledger too. */
export const draftName = 'draft';

const numberPattern = /^\d{4,}$/;

/** Whether a name can stand for one folder of its own. */
export function isStudyName(study: string): boolean {
  return /^[A-Za-z0-9][A-Za-z0-9_-]*$/.test(study);
}

/** @throws InputError the name of a study could not stand for one folder of its own */
export function requireStudyName(study: string): void {
  if (!isStudyName(study)) {
    throw new InputError(
      `study: found ${JSON.stringify(study)}, expected letters, digits, hyphens and underscores only`,
    );
  }
}

/** Whether a name is that of an issue: four digits or more. */
export function isIssueNumber(name: string): boolean {
  return numberPattern.test(name);
}

/** Names in a folder, in order; none where the folder does not exist. */
export async function namesIn(folder: string): Promise<string[]> {
  try {
    return (await readdir(folder)).sort();
  } catch (error) {
    if (isErrorWithCode(error, 'ENOENT')) return [];
    throw error;
  }
}

/** Names of the studies that have a folder under the reports folder. */
export async function studiesIn(root: string): Promise<string[]> {
  try {
    const entries = await readdir(root, { withFileTypes: true });
    return entries
      .filter((entry) => entry.isDirectory() && !entry.name.startsWith('.'))
      .map((entry) => entry.name)
      .sort();
  } catch (error) {
    if (isErrorWithCode(error, 'ENOENT')) return [];
    throw error;
  }
}

/** Where an issue waits, out of sight, until its line stands in the ledger. */
export function stagedFolder(root: string, study: string, number: string): string {
  return join(root, study, `.${number}`);
}

/** Folder of an issue. */
export function issueFolder(root: string, study: string, number: string): string {
  return join(root, study, number);
}

/** Number of a staged folder or of what is left of one, `null` for any other name. */
export function stagedNumber(name: string): string | null {
  return /^\.(\d{4,})$/.exec(name)?.[1] ?? null;
}

/** Whether a name is that of a half-written neighbour of a staged folder. */
export function isLeftover(name: string): boolean {
  return /^\.\.\d{4,}\.[0-9a-f]+$/.test(name);
}
