import { mkdir, rename } from 'node:fs/promises';
import { join } from 'node:path';
import { InputError, MeltbookError } from '../../errors.js';
import { type FolderContent, writeFolderWhole } from '../../records/atomic-write.js';
import { canonicalJson } from '../../records/canonical-json.js';
import { sha256 } from '../../records/checksum.js';
import { readLedger } from './check-ledger.js';
import { withExclusiveLock } from './exclusive-lock.js';
import { isIssueNumber, issueFolder, namesIn, requireStudyName, stagedFolder } from './issue-folders.js';
import { appendLedgerLine, type LedgerLine, ledgerTexts, readLedgerText } from './ledger.js';
import { type IssueOrigin, type Manifest, manifestFiles, manifestName } from './manifest.js';
import { recover } from './recover.js';

/** What goes into an issue. */
export interface IssueRequest extends IssueOrigin {
  /** The reports folder; it is made where it does not exist. */
  readonly root: string;
  readonly study: string;
  /** Path in the issue's folder → content; or a function of the number, for files that print it. */
  readonly files: FolderContent | ((number: string) => FolderContent);
  /** How long to wait for another run that is writing, in milliseconds; a minute where not given. */
  readonly waitMs?: number;
}

/** An issue as written. */
export interface Issue {
  readonly study: string;
  readonly number: string;
  readonly folder: string;
  readonly manifest: Manifest;
  readonly line: LedgerLine;
}

/** The number after the highest that the folder or the ledger has seen. */
async function nextNumber(root: string, study: string, lines: readonly LedgerLine[]): Promise<string> {
  const written = (await namesIn(join(root, study))).filter(isIssueNumber);
  const entered = lines.filter((line) => line.study === study).map((line) => line.number);
  const highest = Math.max(0, ...[...written, ...entered].map(Number));
  return String(highest + 1).padStart(4, '0');
}

/** @throws MeltbookError the ledger was altered: nothing is built on evidence that does not hold */
function soundLines(text: string): LedgerLine[] {
  const { lines, problems } = readLedger(text);
  const first = problems[0];
  if (first !== undefined) {
    const what = `${first.place}: found ${first.found}; expected ${first.expected}`;
    throw new MeltbookError(`the ledger does not hold, so no issue is added to it\n${what}`, 5);
  }
  return lines.filter((line) => line !== null);
}

function manifestOf(request: IssueRequest, number: string, files: FolderContent): Manifest {
  const { study, created, versions, seed, parameters, records } = request;
  const listed = manifestFiles(files);
  if (listed.length === 0) throw new InputError('files of an issue: found none, expected at least one');
  if (listed.some(({ path }) => path === manifestName)) {
    throw new InputError(`files of an issue: found ${manifestName}, a name kept for the list of the others`);
  }
  const origin = { created, versions, seed, parameters, records };
  return { schema: 'meltbook issue 1', study, number, ...origin, files: listed };
}

async function writeUnderLock(request: IssueRequest): Promise<Issue> {
  const { root, study } = request;
  const ledgerText = await readLedgerText(root);
  const lines = soundLines(ledgerText);
  await recover(root, lines);
  const number = await nextNumber(root, study, lines);
  const files = typeof request.files === 'function' ? request.files(number) : request.files;
  const manifest = manifestOf(request, number, files);
  const manifestText = `${canonicalJson(manifest)}\n`;
  const staged = stagedFolder(root, study, number);
  await writeFolderWhole(staged, { ...files, [manifestName]: manifestText });
  const entry = { study, number, created: request.created, manifest: sha256(manifestText) };
  const line = await appendLedgerLine(root, ledgerTexts(ledgerText), entry);
  const folder = issueFolder(root, study, number);
  await rename(staged, folder);
  return { study, number, folder, manifest, line };
}

/**
 * Writes an issue of a report: a numbered folder with a manifest, and its line in the ledger; whole or not at all.
 *
 * The files are first written out of sight. The issue exists from the moment its line stands in the ledger; a run killed
 * before that leaves nothing visible, a run killed after it is finished by the next. Runs at once take turns.
 *
 * @param request files, origin and place
 * @returns number, folder, manifest and ledger line
 * @throws InputError a name or path that cannot be used
 * @throws MeltbookError another run holds the reports folder for too long
 * @see ISO/IEC 17025:2017, 7.5.1, 8.4.2 (from memory)
 */
export async function writeIssue(request: IssueRequest): Promise<Issue> {
  requireStudyName(request.study);
  await mkdir(request.root, { recursive: true });
  return withExclusiveLock(join(request.root, '.lock'), () => writeUnderLock(request), request.waitMs);
}
