import { lstat, readdir, readFile } from 'node:fs/promises';
import { join, relative, sep } from 'node:path';
import { sha256, sha256OfFile } from '../../records/checksum.js';
import { isErrorWithCode } from '../../records/error-code.js';
import type { AuditProblem } from './check-ledger.js';
import type { LedgerLine } from './ledger.js';
import { type Manifest, manifestName } from './manifest.js';

/** Paths of everything below a folder that is not itself a folder, with `/`, in order. */
async function pathsBelow(folder: string): Promise<string[]> {
  const entries = await readdir(folder, { withFileTypes: true, recursive: true });
  return entries
    .filter((entry) => !entry.isDirectory())
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)).split(sep).join('/'))
    .sort();
}

/** @returns what is wrong with one listed file, `null` where nothing is */
async function fileProblem(folder: string, path: string, hash: string): Promise<AuditProblem | null> {
  const entry = await lstat(join(folder, path));
  if (!entry.isFile()) return { place: path, found: 'no plain file', expected: 'a plain file' };
  const found = await sha256OfFile(join(folder, path));
  return found === hash ? null : { place: path, found: `SHA-256 ${found}`, expected: hash };
}

async function listedProblems(folder: string, manifest: Manifest): Promise<AuditProblem[]> {
  const present = await pathsBelow(folder);
  const listed = new Map(manifest.files.map((file) => [file.path, file.sha256]));
  const problems: AuditProblem[] = [];
  for (const [path, hash] of listed) {
    if (!present.includes(path)) {
      problems.push({ place: path, found: 'no file', expected: 'the file of the manifest' });
      continue;
    }
    const problem = await fileProblem(folder, path, hash);
    if (problem !== null) problems.push(problem);
  }
  for (const path of present) {
    if (path !== manifestName && !listed.has(path)) {
      problems.push({ place: path, found: 'a file', expected: 'none: the manifest does not list it' });
    }
  }
  return problems;
}

function matchProblems(manifest: Manifest, line: LedgerLine): AuditProblem[] {
  const fields = ['study', 'number', 'created'] as const;
  return fields
    .filter((field) => manifest[field] !== line[field])
    .map((field) => ({ place: manifestName, found: `${field} ${manifest[field]}`, expected: line[field] }));
}

/**
 * Checks the folder of one issue against its line of the ledger and its manifest. Where the manifest itself was altered,
 * its list proves nothing and only that is reported.
 *
 * @param folder where the issue lies
 * @param line its line of the ledger
 * @returns problems with the path of the file they stand in
 */
export async function checkIssue(folder: string, line: LedgerLine): Promise<AuditProblem[]> {
  const key = `${line.study}/${line.number}`;
  const below = (problems: readonly AuditProblem[]): AuditProblem[] =>
    problems.map((problem) => ({ ...problem, place: `${key}/${problem.place}` }));
  const bytes = await readFile(join(folder, manifestName)).catch((error: unknown) => {
    if (isErrorWithCode(error, 'ENOENT') || isErrorWithCode(error, 'ENOTDIR')) return null;
    throw error;
  });
  if (bytes === null) {
    return [{ place: `${key}/${manifestName}`, found: 'no file', expected: 'the manifest of the issue' }];
  }
  const hash = sha256(bytes);
  if (hash !== line.manifest) {
    return below([{ place: manifestName, found: `SHA-256 ${hash}`, expected: line.manifest }]);
  }
  const manifest = JSON.parse(bytes.toString('utf8')) as Manifest;
  return below([...matchProblems(manifest, line), ...(await listedProblems(folder, manifest))]);
}
