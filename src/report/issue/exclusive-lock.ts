import { randomBytes } from 'node:crypto';
import { readFile, readlink, symlink, unlink } from 'node:fs/promises';
import { hostname } from 'node:os';
import { MeltbookError } from '../../errors.js';
import { isErrorWithCode } from '../../records/error-code.js';

const pauseMs = 25;
/** A crash while clearing up after a crash while clearing up after a crash: then a person has to look. */
const deepest = 3;

/** State and start of a process as the system's process table has them, `null` where it cannot be read. */
async function processEntry(id: number): Promise<{ state: string; started: string } | null> {
  const text = await readFile(`/proc/${id}/stat`, 'utf8').catch(() => null);
  if (text === null) return null;
  const fields = text.slice(text.lastIndexOf(')') + 2).split(' ');
  return { state: fields[0] ?? '', started: fields[19] ?? '' };
}

/** Who this process is: host, process, its start, and a token that tells one acquisition from the next. */
async function ownName(): Promise<string> {
  const started = (await processEntry(process.pid))?.started ?? '';
  return [hostname(), process.pid, started, randomBytes(8).toString('hex')].join('/');
}

/** Whether the process of this name runs no more; one on another host counts as running. */
async function isGone(owner: string): Promise<boolean> {
  const [host, id, started] = owner.split('/');
  if (host !== hostname()) return false;
  try {
    process.kill(Number(id), 0);
  } catch (error) {
    return isErrorWithCode(error, 'ESRCH');
  }
  const entry = await processEntry(Number(id));
  if (entry === null || started === '') return false;
  return entry.state === 'Z' || entry.started !== started;
}

/** Name of the process that holds the lock, `null` where nobody does. */
async function holderOf(path: string): Promise<string | null> {
  return readlink(path).catch((error: unknown) => {
    if (isErrorWithCode(error, 'ENOENT')) return null;
    throw error;
  });
}

function heldTooLong(path: string, holder: string, waitMs: number): MeltbookError {
  const [host, id] = holder.split('/');
  return new MeltbookError(
    `${path}: held by process ${id} on ${host} for more than ${waitMs / 1000} s; wait for it, or delete the file if no such run is at work`,
    4,
  );
}

/** The lock is a link that points nowhere: making one is exclusive, and it is never there without its owner's name. */
async function take(path: string, waitMs: number, depth: number): Promise<void> {
  const own = await ownName();
  for (let waited = 0; ; waited += pauseMs) {
    try {
      return await symlink(own, path);
    } catch (error) {
      if (!isErrorWithCode(error, 'EEXIST')) throw error;
    }
    const holder = await holderOf(path);
    if (holder === null) continue;
    if (await isGone(holder)) await clear(path, holder, waitMs, depth);
    else if (waited >= waitMs) throw heldTooLong(path, holder, waitMs);
    else await new Promise((resolve) => setTimeout(resolve, pauseMs));
  }
}

/**
 * Removes the lock of a process that is gone. Under a lock of its own: otherwise two who both saw the dead owner could
 * remove, the second of them, the lock the first has just taken.
 */
async function clear(path: string, gone: string, waitMs: number, depth: number): Promise<void> {
  if (depth >= deepest) throw heldTooLong(path, gone, waitMs);
  await underLock(`${path}.clear`, waitMs, depth + 1, async () => {
    if ((await holderOf(path)) === gone) await unlink(path);
  });
}

async function underLock<T>(path: string, waitMs: number, depth: number, work: () => Promise<T>): Promise<T> {
  await take(path, waitMs, depth);
  try {
    return await work();
  } finally {
    await unlink(path);
  }
}

/**
 * Runs `work` while no other process that asks for the same lock does. The lock of a process that was killed is
 * recognised and taken over.
 *
 * @param path name of the lock in a folder that exists
 * @param work what to do while holding it
 * @param waitMs how long to wait for another holder, in milliseconds
 * @returns what `work` returns
 * @throws MeltbookError another process holds the lock for too long
 */
export async function withExclusiveLock<T>(
  path: string,
  work: () => Promise<T>,
  waitMs = 60_000,
): Promise<T> {
  return underLock(path, waitMs, 0, work);
}
