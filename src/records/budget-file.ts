import { readFile, stat } from 'node:fs/promises';
import { basename } from 'node:path';
import { InputError, RecordsError } from '../errors.js';
import type { BudgetFile } from '../uncertainty/budget-file/budget-file.js';
import { decodeBudgetFile } from '../uncertainty/budget-file/decode-budget-file.js';
import { parseJson } from './json/parse-json.js';
import { sizeLimits } from './size-limits.js';

/**
 * Reads a budget file.
 *
 * @param path of a JSON file in the form of `budgetFileSchema`
 * @throws InputError no such file, or one that cannot be read
 * @throws RecordsError a file that is too large or no JSON in UTF-8; every problem of its content
 */
export async function readBudgetFile(path: string): Promise<BudgetFile> {
  const file = basename(path);
  const refuse = (found: string, expected: string): never => {
    throw new RecordsError([{ code: 'file form', file, row: null, column: null, found, expected }]);
  };
  const size = await sizeOf(path);
  if (size > sizeLimits.jsonBytes) refuse(`${size} bytes`, `at most ${sizeLimits.jsonBytes}`);
  const content = await readFile(path);
  return decodeBudgetFile(parsed(content, refuse), file);
}

function parsed(content: Uint8Array, refuse: (found: string, expected: string) => never): unknown {
  const found = parseJson(content);
  return 'json' in found ? found.json : refuse(found.problem, 'JSON in UTF-8');
}

/** Nothing that was read is at fault where the path leads to no file: no problem of records. */
async function sizeOf(path: string): Promise<number> {
  const refuse = (found: string, options?: ErrorOptions): never => {
    throw new InputError(`budget file: found ${found}, expected the path of a JSON file`, options);
  };
  return stat(path).then(
    (found) => (found.isFile() ? found.size : refuse(`no file but a folder, ${path}`)),
    (error: unknown) => refuse(`${systemReason(error)} ${path}`, { cause: error }),
  );
}

/** A system error in words. */
function systemReason(error: unknown): string {
  if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return 'no such file';
  return error instanceof Error ? error.message : String(error);
}
