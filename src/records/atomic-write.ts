import { randomBytes } from 'node:crypto';
import { link, mkdir, open, readdir, rename, rm, stat, unlink } from 'node:fs/promises';
import { basename, dirname, isAbsolute, join, normalize, resolve, sep } from 'node:path';
import { InputError } from '../errors.js';
import { isErrorWithCode } from './error-code.js';

/** Files of a folder: path inside it (with `/`) and content. */
export type FolderContent = Readonly<Record<string, Uint8Array | string>>;

/** The same where a file may come in parts: those of one file are asked for once the file before it is written. */
export type FolderParts = Readonly<Record<string, Uint8Array | string | AsyncIterable<string>>>;

/**
 * Writes a file whole or not at all: a neighbour is written, flushed to the disc and renamed.
 * An interrupted run leaves the old file, or none. With `overwrite: false` an existing file is an error.
 * @throws InputError the file exists and `overwrite` is false
 */
export async function writeFileWhole(
  path: string,
  content: Uint8Array | string,
  options: { readonly overwrite?: boolean } = {},
): Promise<void> {
  await mkdir(dirname(path), { recursive: true });
  const neighbour = temporaryName(path);
  try {
    await writeFlushed(neighbour, content);
    if (options.overwrite === false) {
      await link(neighbour, path).catch((error: unknown) => {
        throw isErrorWithCode(error, 'EEXIST') ? alreadyThere(path) : error;
      });
      await unlink(neighbour);
    } else {
      await rename(neighbour, path);
    }
  } catch (error) {
    await rm(neighbour, { force: true });
    throw error;
  }
  await flushFolder(dirname(path));
}

/**
 * Writes a folder whole or not at all: a neighbour is filled, flushed and renamed. An existing folder that is not empty
 * is an error before any part is asked for, unless `replace` is set: then the old one steps aside, and is deleted once the new
 * one has its name. Two runs at once cannot both win.
 * @throws InputError the folder exists, is not empty and `replace` is not set; a place where no folder can be made; a path that
 *   leaves the folder
 */
export async function writeFolderWhole(
  folder: string,
  content: FolderParts,
  options: { readonly replace?: boolean } = {},
): Promise<void> {
  for (const path of Object.keys(content)) requireInside(path);
  if (folder === '') throw new InputError('folder to be written: found an empty name, expected its path');
  const place = resolve(folder);
  if (options.replace !== true && (await isTaken(place))) throw alreadyThere(folder);
  const neighbour = temporaryName(place);
  try {
    await mkdir(dirname(place), { recursive: true });
    await mkdir(neighbour);
  } catch (error) {
    throw notMade(folder, error);
  }
  try {
    for (const [path, bytes] of Object.entries(content)) {
      await mkdir(dirname(join(neighbour, path)), { recursive: true });
      await writeFlushed(join(neighbour, path), bytes);
    }
    await flushFolder(neighbour);
    await takeName(neighbour, place, options.replace === true);
  } catch (error) {
    await rm(neighbour, { recursive: true, force: true });
    throw error;
  }
  await flushFolder(dirname(place));
}

/** True for a folder that holds anything, and for a file. */
async function isTaken(path: string): Promise<boolean> {
  const found = await stat(path).catch(() => null);
  if (found === null || !found.isDirectory()) return found !== null;
  return (await readdir(path).catch(() => [])).length > 0;
}

const placesWithoutFolder: Readonly<Record<string, string>> = {
  EACCES: 'a place that may not be written to',
  EPERM: 'a place that may not be written to',
  EROFS: 'a disc that can only be read',
  EEXIST: 'a file where a folder should be',
  ENOTDIR: 'a file where a folder should be',
  ENOENT: 'a place where no folder can be made',
  ENAMETOOLONG: 'a name that is too long',
};

/** What stands in the way of a new folder in words; any other fault as it is. */
function notMade(folder: string, error: unknown): unknown {
  const code = Object.keys(placesWithoutFolder).find((each) => isErrorWithCode(error, each));
  if (code === undefined) return error;
  const found = placesWithoutFolder[code]!;
  return new InputError(`${folder}: found ${found}, expected a place where this folder can be made`, {
    cause: error,
  });
}

/** Renames the finished neighbour to the folder's name. */
async function takeName(neighbour: string, folder: string, replace: boolean): Promise<void> {
  if (!replace) {
    await rename(neighbour, folder).catch((error: unknown) => {
      const isTaken = ['ENOTEMPTY', 'EEXIST', 'ENOTDIR'].some((code) => isErrorWithCode(error, code));
      throw isTaken ? alreadyThere(folder) : error;
    });
    return;
  }
  const isPresent = await readdir(folder).then(
    () => true,
    () => false,
  );
  const aside = temporaryName(folder);
  if (isPresent) await rename(folder, aside);
  try {
    await rename(neighbour, folder);
  } catch (error) {
    if (isPresent) await rename(aside, folder);
    throw error;
  }
  await rm(aside, { recursive: true, force: true });
}

function temporaryName(path: string): string {
  return join(dirname(path), `.${basename(path)}.${randomBytes(6).toString('hex')}`);
}

async function writeFlushed(path: string, content: FolderParts[string]): Promise<void> {
  const file = await open(path, 'wx');
  try {
    if (typeof content === 'string' || content instanceof Uint8Array) await file.writeFile(content);
    else for await (const part of content) await file.appendFile(part);
    await file.sync();
  } finally {
    await file.close();
  }
}

async function flushFolder(path: string): Promise<void> {
  const folder = await open(path, 'r');
  try {
    await folder.sync();
  } finally {
    await folder.close();
  }
}

function requireInside(path: string): void {
  const clean = normalize(path);
  if (isAbsolute(clean) || clean === '.' || clean === '..' || clean.startsWith(`..${sep}`)) {
    throw new InputError(`file of a folder: found "${path}", expected a path that stays inside it`);
  }
}

function alreadyThere(path: string): InputError {
  return new InputError(`${path}: found something of this name, expected none: it is not overwritten`);
}
