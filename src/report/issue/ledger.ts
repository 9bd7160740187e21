import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { writeFileWhole } from '../../records/atomic-write.js';
import { canonicalJson } from '../../records/canonical-json.js';
import { sha256 } from '../../records/checksum.js';
import { isErrorWithCode } from '../../records/error-code.js';

/** What the ledger says of one issue. */
export interface LedgerEntry {
  readonly study: string;
  readonly number: string;
  readonly created: string;
  /** SHA-256 of the manifest. */
  readonly manifest: string;
}

/** One line of the ledger. */
export interface LedgerLine extends LedgerEntry {
  readonly schema: 'meltbook ledger 1';
  readonly sequence: number;
  /** SHA-256 of the line before, without its line feed. */
  readonly previous: string;
  /** SHA-256 of this line without this field: tells which of two lines was altered. */
  readonly self: string;
}

/** What the first line bears in place of a hash. */
const beforeFirstLine = '0'.repeat(64);

/** Path of the ledger in the reports folder. */
export function ledgerPath(root: string): string {
  return join(root, 'ledger.jsonl');
}

/** Text of the ledger; empty where no issue was written yet. */
export async function readLedgerText(root: string): Promise<string> {
  try {
    return await readFile(ledgerPath(root), 'utf8');
  } catch (error) {
    if (isErrorWithCode(error, 'ENOENT')) return '';
    throw error;
  }
}

/** Lines of a ledger text, without their line feeds. */
export function ledgerTexts(text: string): string[] {
  const lines = text.split('\n');
  if (lines.at(-1) === '') lines.pop();
  return lines;
}

/** Hash that the next line bears. */
export function headHash(texts: readonly string[]): string {
  const last = texts.at(-1);
  return last === undefined ? beforeFirstLine : sha256(last);
}

/** The hash a line bears of itself. */
export function selfHash(line: Omit<LedgerLine, 'self'>): string {
  const { schema, sequence, study, number, created, manifest, previous } = line;
  return sha256(canonicalJson({ schema, sequence, study, number, created, manifest, previous }));
}

/**
 * Puts one line after the others. The file is replaced whole, so that it never ends in half a line.
 * Only to be called under the lock of the reports folder.
 */
export async function appendLedgerLine(
  root: string,
  texts: readonly string[],
  entry: LedgerEntry,
): Promise<LedgerLine> {
  const start = { schema: 'meltbook ledger 1', sequence: texts.length + 1 } as const;
  const open = { ...start, ...entry, previous: headHash(texts) };
  const line: LedgerLine = { ...open, self: selfHash(open) };
  await writeFileWhole(ledgerPath(root), `${[...texts, canonicalJson(line)].join('\n')}\n`);
  return line;
}
