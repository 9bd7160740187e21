import { lstat } from 'node:fs/promises';
import { join } from 'node:path';
import { checkIssue } from './check-issue.js';
import { type AuditProblem, readLedger } from './check-ledger.js';
import {
  draftName,
  failedName,
  isIssueNumber,
  issueFolder,
  namesIn,
  stagedFolder,
  stagedNumber,
  studiesIn,
} from './issue-folders.js';
import { headHash, type LedgerLine, ledgerTexts, readLedgerText } from './ledger.js';

/** Outcome of an audit of the reports folder. */
export interface Audit {
  /** Lines of the ledger. */
  readonly issues: number;
  /** SHA-256 that the next line will bear: noted elsewhere, it proves that no line at the end was cut off. */
  readonly head: string;
  readonly problems: readonly AuditProblem[];
  /** What a killed run left; the next run finishes or removes it. */
  readonly interrupted: readonly string[];
  /** Folders of failed runs and of runs by hand: no part of the evidence, whatever they hold. */
  readonly unissued: readonly string[];
}

async function isFolder(path: string): Promise<boolean> {
  const entry = await lstat(path).catch(() => null);
  return entry?.isDirectory() ?? false;
}

/** Entries of the study folders that the ledger does not account for. */
async function unaccounted(
  root: string,
  entered: ReadonlySet<string>,
): Promise<Pick<Audit, 'problems' | 'interrupted' | 'unissued'>> {
  const problems: AuditProblem[] = [];
  const interrupted: string[] = [];
  const unissued: string[] = [];
  for (const study of await studiesIn(root)) {
    for (const name of await namesIn(join(root, study))) {
      const place = `${study}/${name}`;
      if (name.startsWith('.')) {
        if (!entered.has(`${study}/${stagedNumber(name)}`)) interrupted.push(place);
      } else if ([failedName, draftName].includes(name) && (await isFolder(join(root, place)))) {
        unissued.push(place);
      } else if (!entered.has(place)) {
        const found = isIssueNumber(name) ? 'an issue without a line' : 'something that is no issue';
        problems.push({ place, found, expected: 'issues of the ledger only' });
      }
    }
  }
  return { problems, interrupted, unissued };
}

/** Checks the issue of one line where it lies, or where a killed run left it waiting. */
async function checkEntered(
  root: string,
  line: LedgerLine,
): Promise<Pick<Audit, 'problems' | 'interrupted'>> {
  const folder = issueFolder(root, line.study, line.number);
  const staged = stagedFolder(root, line.study, line.number);
  const waits = !(await isFolder(folder)) && (await isFolder(staged));
  const problems = await checkIssue(waits ? staged : folder, line);
  return { problems, interrupted: waits ? [`${line.study}/${line.number}`] : [] };
}

/**
 * Checks every issue and every line of the ledger: hashes, chain, missing and extra files. Reads only.
 *
 * @param root the reports folder
 * @returns problems with the file or line they stand in; none where the evidence holds
 * @see ISO/IEC 17025:2017, 7.11.3, 8.4.2 (from memory)
 */
export async function audit(root: string): Promise<Audit> {
  const text = await readLedgerText(root);
  const { lines, problems: ledgerProblems } = readLedger(text);
  const problems = [...ledgerProblems];
  const interrupted: string[] = [];
  const entered = new Set<string>();
  for (const [index, line] of lines.entries()) {
    if (line === null) continue;
    const key = `${line.study}/${line.number}`;
    if (entered.has(key)) {
      problems.push({
        place: `ledger.jsonl, line ${index + 1}`,
        found: `${key} again`,
        expected: 'a new issue',
      });
      continue;
    }
    entered.add(key);
    const checked = await checkEntered(root, line);
    problems.push(...checked.problems);
    interrupted.push(...checked.interrupted);
  }
  const others = await unaccounted(root, entered);
  problems.push(...others.problems);
  interrupted.push(...others.interrupted);
  const head = headHash(ledgerTexts(text));
  return { issues: lines.length, head, problems, interrupted, unissued: others.unissued };
}
