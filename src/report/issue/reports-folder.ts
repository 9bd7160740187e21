import { stat } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';
import { InputError } from '../../errors.js';
import { isErrorWithCode } from '../../records/error-code.js';

/**
 * Makes sure before a run that its report can be filed: the reports folder is a folder, or can be made as one. Nothing is
 * written.
 *
 * @throws InputError a file stands in its place or in its path
 */
export async function requireReportsFolder(root: string): Promise<void> {
  let path = resolve(root);
  for (;;) {
    const state = await stateOf(path);
    if (state?.isDirectory() === true) return;
    if (state !== null)
      throw new InputError(`reports: found a file at ${path}, expected a folder, or none yet, at ${root}`);
    path = dirname(path);
  }
}

/** What stands at a path; `null` where nothing does. */
async function stateOf(path: string): Promise<Awaited<ReturnType<typeof stat>> | null> {
  try {
    return await stat(path);
  } catch (error) {
    if (isErrorWithCode(error, 'ENOENT') || isErrorWithCode(error, 'ENOTDIR')) return null;
    throw error;
  }
}
