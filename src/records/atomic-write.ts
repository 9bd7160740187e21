import { randomBytes } from 'node:crypto';
import { link, mkdir, open, readdir, rename, rm, unlink } from 'node:fs/promises';
import { basename, dirname, isAbsolute, join, normalize, sep } from 'node:path';
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
 * is an error, unless `replace` is set: then the old one steps aside, and is deleted once the new one has its name.
 * Two runs at once cannot both win.
 * @throws InputError the folder exists, is not empty and `replace` is not set; a path that leaves the folder
 */
export async function writeFolderWhole(
  folder: string,
  content: FolderParts,
  options: { readonly replace?: boolean } = {},
): Promise<void> {
  for (const path of Object.keys(content)) requireInside(path);
  await mkdir(dirname(folder), { recursive: true });
  const neighbour = temporaryName(folder);
  try {
    await mkdir(neighbour);
    for (const [path, bytes] of Object.entries(content)) {
      await mkdir(dirname(join(neighbour, path)), { recursive: true });
      await writeFlushed(join(neighbour, path), bytes);
    }
    await flushFolder(neighbour);
    await takeName(neighbour, folder, options.replace === true);
  } catch (error) {
    await rm(neighbour, { recursive: true, force: true });
    throw error;
  }
  await flushFolder(dirname(folder));
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
