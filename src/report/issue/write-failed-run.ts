import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { type FolderContent, writeFolderWhole } from '../../records/atomic-write.js';
import { withExclusiveLock } from './exclusive-lock.js';
import { failedName, namesIn, requireStudyName } from './issue-folders.js';

/** What a run that failed leaves for the eye. */
export interface FailedRun {
  readonly root: string;
  readonly study: string;
  /** Date and time of the run, ISO 8601; gives the folder its name. */
  readonly created: string;
  readonly files: FolderContent;
}

/**
 * Keeps what a failed run produced under `reports/<study>/failed/`, outside numbers and ledger.
 *
 * @returns the folder written
 * @throws InputError a name or path that cannot be used
 */
export async function writeFailedRun({ root, study, created, files }: FailedRun): Promise<string> {
  requireStudyName(study);
  await mkdir(root, { recursive: true });
  return withExclusiveLock(join(root, '.lock'), async () => {
    const parent = join(root, study, failedName);
    const name = created.replace(/[^0-9TZ]+/g, '-');
    const taken = new Set(await namesIn(parent));
    let free = name;
    for (let count = 2; taken.has(free); count++) free = `${name}-${count}`;
    await writeFolderWhole(join(parent, free), files);
    return join(parent, free);
  });
}
