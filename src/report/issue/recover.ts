import { readFile, rename, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { sha256 } from '../../records/checksum.js';
import { isLeftover, issueFolder, namesIn, stagedNumber, studiesIn } from './issue-folders.js';
import type { LedgerLine } from './ledger.js';
import { manifestName } from './manifest.js';

/** A staged folder got its name whole, so its manifest is there. */
async function settle(
  root: string,
  study: string,
  name: string,
  number: string,
  lines: readonly LedgerLine[],
): Promise<void> {
  const staged = join(root, study, name);
  const manifest = sha256(await readFile(join(staged, manifestName)));
  const isEntered = lines.some(
    (line) => line.study === study && line.number === number && line.manifest === manifest,
  );
  if (isEntered) await rename(staged, issueFolder(root, study, number));
  else await rm(staged, { recursive: true });
}

/**
 * Finishes or undoes what a killed run left: a staged issue that the ledger names gets its place, any other is removed.
 * Only to be called under the lock of the reports folder.
 *
 * @param root the reports folder
 * @param lines lines of the ledger
 */
export async function recover(root: string, lines: readonly LedgerLine[]): Promise<void> {
  for (const study of await studiesIn(root)) {
    for (const name of await namesIn(join(root, study))) {
      const number = stagedNumber(name);
      if (number !== null) await settle(root, study, name, number, lines);
      else if (isLeftover(name)) await rm(join(root, study, name), { recursive: true });
    }
  }
  for (const name of await namesIn(root)) {
    if (/^\.ledger\.jsonl\.[0-9a-f]+$/.test(name)) await rm(join(root, name));
  }
}
