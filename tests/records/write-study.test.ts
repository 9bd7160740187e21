import { mkdirSync, readdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readStudy, readStudyWithProvenance } from '../../src/records/read-study.js';
import { writeStudy } from '../../src/records/write-study.js';
import { temporaryFolder } from '../support/temporary-folder.js';
import { smallStudy } from './small-study.js';

describe('writeStudy', () => {
  it('writes what readStudy gives back', async () => {
    const folder = join(temporaryFolder(), 'study');
    await writeStudy(folder, smallStudy);
    expect(await readStudy(folder)).toEqual(smallStudy);
  });

  it('writes the same bytes for the same records', async () => {
    const [first, second] = [join(temporaryFolder(), 'a'), join(temporaryFolder(), 'b')];
    await writeStudy(first, smallStudy);
    await writeStudy(second, await readStudy(first));
    const provenance = async (folder: string) => (await readStudyWithProvenance(folder)).provenance;
    expect(await provenance(second)).toEqual(await provenance(first));
    expect((await provenance(first)).find(({ file }) => file === 'digestions.csv')?.rows).toBe(
      smallStudy.digestions.length,
    );
  });

  it('leaves the balance of dilutions out where no row names one', async () => {
    const [named, unnamed] = [join(temporaryFolder(), 'a'), join(temporaryFolder(), 'b')];
    const dilutions = smallStudy.dilutions.map((row) => ({ ...row, balance: '' }));
    await writeStudy(named, smallStudy);
    await writeStudy(unnamed, { ...smallStudy, dilutions });
    const heading = (folder: string) => readFileSync(join(folder, 'dilutions.csv'), 'utf8').split('\n')[0];
    expect(heading(named)).toBe(`${heading(unnamed)},balance`);
    expect((await readStudy(unnamed)).dilutions).toEqual(dilutions);
  });

  it('writes nothing where one value could not be read back', async () => {
    const parent = temporaryFolder();
    const [first, ...others] = smallStudy.digestions;
    const digestions = [...others, { ...first!, fluxG: Number.NaN }];
    await expect(writeStudy(join(parent, 'study'), { ...smallStudy, digestions })).rejects.toThrow(
      'digestions, D-001, "flux g": found NaN, expected a number above 0',
    );
    const untrimmed = [...others, { ...first!, remark: 'spilt ' }];
    await expect(writeStudy(join(parent, 'study'), { ...smallStudy, digestions: untrimmed })).rejects.toThrow(
      '"remark"',
    );
    expect(readdirSync(parent)).toEqual([]);
  });

  it('leaves a study that is there alone unless told to replace it', async () => {
    const parent = temporaryFolder();
    const folder = join(parent, 'study');
    await writeStudy(folder, smallStudy);
    await expect(writeStudy(folder, smallStudy)).rejects.toThrow('it is not overwritten');
    await writeStudy(
      folder,
      { ...smallStudy, rounds: [] },
      { replace: true, extraFiles: { 'README.md': 'x' } },
    );
    expect(readdirSync(folder)).not.toContain('rounds.csv');
    expect(readFileSync(join(folder, 'README.md'), 'utf8')).toBe('x');
    expect(readdirSync(parent)).toEqual(['study']);
    await expect(writeStudy(folder, smallStudy, { replace: true })).rejects.toThrow('found README.md');
  });

  it('reads no file from outside the study folder', async () => {
    const parent = temporaryFolder();
    const folder = join(parent, 'study');
    await writeStudy(folder, { ...smallStudy, rounds: [] });
    mkdirSync(join(parent, 'elsewhere'));
    writeFileSync(join(parent, 'elsewhere', 'rounds.csv'), 'round\n');
    symlinkSync('../elsewhere/rounds.csv', join(folder, 'rounds.csv'));
    await expect(readStudy(folder)).rejects.toThrow(
      'rounds.csv: found a link or folder; expected a file inside the study folder',
    );
  });
});
