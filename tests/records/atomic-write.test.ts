import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
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
