import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../src/errors.js';
import { writeFileWhole, writeFolderWhole } from '../../src/records/atomic-write.js';
import { sha256, sha256OfFile } from '../../src/records/checksum.js';
import { temporaryFolder } from '../support/temporary-folder.js';

describe('writeFileWhole', () => {
  it('writes, and replaces, leaving nothing else behind', async () => {
    const folder = temporaryFolder();
    const path = join(folder, 'deep', 'a.txt');
    await writeFileWhole(path, 'one');
    await writeFileWhole(path, new TextEncoder().encode('two'));
    expect(readFileSync(path, 'utf8')).toBe('two');
    expect(await sha256OfFile(path)).toBe(sha256('two'));
    expect(readdirSync(join(folder, 'deep'))).toEqual(['a.txt']);
  });

  it('lets exactly one of many writers have a name that is not to be overwritten', async () => {
    const path = join(temporaryFolder(), 'a.txt');
    const writers = Array.from({ length: 8 }, (_, i) => writeFileWhole(path, `${i}`, { overwrite: false }));
    const outcomes = await Promise.allSettled(writers);
    const winners = outcomes.flatMap(({ status }, i) => (status === 'fulfilled' ? [i] : []));
    expect(winners).toHaveLength(1);
    expect(readFileSync(path, 'utf8')).toBe(`${winners[0]}`);
    for (const outcome of outcomes) {
      if (outcome.status === 'rejected') expect(String(outcome.reason)).toContain('it is not overwritten');
    }
    expect(readdirSync(join(path, '..'))).toEqual(['a.txt']);
  });

  it('leaves what was there, and no neighbour, where the name is taken by a folder', async () => {
    const folder = temporaryFolder();
    mkdirSync(join(folder, 'a', 'inner'), { recursive: true });
    await expect(writeFileWhole(join(folder, 'a'), 'x')).rejects.toThrow();
    expect(readdirSync(folder)).toEqual(['a']);
  });
});

describe('writeFolderWhole', () => {
  it('lets exactly one of many writers have the name', async () => {
    const folder = join(temporaryFolder(), '0001');
    const writers = Array.from({ length: 8 }, (_, i) =>
      writeFolderWhole(folder, { 'a.txt': `${i}`, 'b/c.txt': `${i}` }),
    );
    const outcomes = await Promise.allSettled(writers);
    const winners = outcomes.flatMap(({ status }, i) => (status === 'fulfilled' ? [i] : []));
    expect(winners).toHaveLength(1);
    expect(readFileSync(join(folder, 'a.txt'), 'utf8')).toBe(`${winners[0]}`);
    expect(readFileSync(join(folder, 'b', 'c.txt'), 'utf8')).toBe(`${winners[0]}`);
    expect(readdirSync(join(folder, '..'))).toEqual(['0001']);
  });

  it('asks for no part of a file where the name is taken', async () => {
    const folder = join(temporaryFolder(), 'found');
    await writeFolderWhole(folder, { a: 'one' });
    let asked = false;
    const parts = (async function* () {
      asked = true;
      yield 'two';
    })();
    await expect(writeFolderWhole(folder, { a: parts })).rejects.toThrow('it is not overwritten');
    await expect(writeFolderWhole(join(folder, 'a'), { a: parts })).rejects.toThrow('it is not overwritten');
    expect(asked).toBe(false);
    expect(readFileSync(join(folder, 'a'), 'utf8')).toBe('one');
  });

  it('fills an empty folder that is there, by a path with detours too', async () => {
    const folder = join(temporaryFolder(), 'found');
    mkdirSync(folder);
    await writeFolderWhole(`${folder}/nowhere/../`, { a: 'one' });
    expect(readdirSync(join(folder, '..'))).toEqual(['found']);
    expect(readdirSync(folder)).toEqual(['a']);
  });

  it('says in words where no folder can be made', async () => {
    const parent = temporaryFolder();
    writeFileSync(join(parent, 'file'), '');
    const refusal = async (folder: string) => {
      const error: unknown = await writeFolderWhole(folder, { a: 'one' }).catch((reason: unknown) => reason);
      expect(error).toBeInstanceOf(InputError);
      return (error as InputError).message;
    };
    const expected = 'expected a place where this folder can be made';
    for (const inner of [join(parent, 'file', 'a'), join(parent, 'file', 'a', 'b')]) {
      expect(await refusal(inner)).toBe(`${inner}: found a file where a folder should be, ${expected}`);
    }
    const long = join(parent, 'a'.repeat(300));
    expect(await refusal(long)).toBe(`${long}: found a name that is too long, ${expected}`);
    expect(await refusal('')).toBe('folder to be written: found an empty name, expected its path');
    expect(readdirSync(parent)).toEqual(['file']);
  });

  it('leaves nothing behind where one file cannot be written', async () => {
    const parent = temporaryFolder();
    const content = { a: 'a file', 'a/b.txt': 'below a file' };
    await expect(writeFolderWhole(join(parent, 'study'), content)).rejects.toThrow();
    expect(readdirSync(parent)).toEqual([]);
  });

  it('keeps the old folder where the new one fails, and takes nothing but a folder’s place', async () => {
    const parent = temporaryFolder();
    await writeFolderWhole(join(parent, 'study'), { 'a.txt': 'old' });
    const broken = { a: 'a file', 'a/b.txt': 'below a file' };
    await expect(writeFolderWhole(join(parent, 'study'), broken, { replace: true })).rejects.toThrow();
    expect(readFileSync(join(parent, 'study', 'a.txt'), 'utf8')).toBe('old');
    writeFileSync(join(parent, 'file'), 'x');
    await expect(writeFolderWhole(join(parent, 'file'), { 'a.txt': 'x' })).rejects.toThrow(
      'it is not overwritten',
    );
    expect(readdirSync(parent).sort()).toEqual(['file', 'study']);
  });

  it.each(['../a.txt', '/a.txt', 'b/../../a.txt', '..', '.', ''])(
    'refuses the path "%s", which leaves the folder or is none',
    async (path) => {
      const parent = temporaryFolder();
      await expect(writeFolderWhole(join(parent, 'study'), { [path]: 'x' })).rejects.toThrow(
        'expected a path that stays inside it',
      );
      expect(readdirSync(parent)).toEqual([]);
    },
  );
});
