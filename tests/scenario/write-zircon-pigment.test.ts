import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { checkStudy, readStudy } from '../../src/records/read-study.js';
import { writeZirconPigment, zirconPigmentFiles } from '../../src/scenario/write-zircon-pigment.js';
import { zirconPigmentStudy } from '../../src/scenario/zircon-pigment-study.js';
import { temporaryFolder } from '../support/temporary-folder.js';

const committed = resolve(__dirname, '../../data/zircon-pigment');

function contentOf(folder: string): Record<string, string> {
  return Object.fromEntries(
    readdirSync(folder).map((name) => [name, readFileSync(join(folder, name), 'utf8')]),
  );
}

describe('the written study', () => {
  it('passes its own check and reads back as it was made', async () => {
    const folder = join(temporaryFolder(), 'zircon-pigment');
    await writeZirconPigment(folder, 5);
    expect((await checkStudy(folder)).issues).toEqual([]);
    expect(await readStudy(folder)).toEqual(zirconPigmentStudy({ seed: 5 }).records);
  });

  it('takes the place of what was written before', async () => {
    const folder = join(temporaryFolder(), 'zircon-pigment');
    await writeZirconPigment(folder, 5);
    await writeZirconPigment(folder, 6);
    expect(contentOf(folder)).toEqual(zirconPigmentFiles(6));
  });

  it('keeps the truth in a file of its own, which changes nothing that is read', async () => {
    const study = zirconPigmentStudy({ seed: 5 });
    const files = zirconPigmentFiles(5);
    expect(JSON.parse(`${files['truth.json']}`)).toEqual(JSON.parse(JSON.stringify(study.truth)));
    expect(files['README.md']).toContain('These data are invented');
    for (const [name, text] of Object.entries(files)) {
      if (name !== 'README.md' && name !== 'truth.json') expect(text).not.toMatch(/truth|planted/i);
    }
  });
});

describe('the committed demonstration data', () => {
  it('are what the generator makes, byte for byte', () => {
    expect(contentOf(committed)).toEqual(zirconPigmentFiles());
  });

  it('stay small', () => {
    expect(readFileSync(join(committed, 'readings.csv')).length).toBeLessThan(1_500_000);
  });
});
