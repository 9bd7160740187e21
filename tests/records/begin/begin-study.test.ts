import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { beginStudy } from '../../../src/records/begin/begin-study.js';
import { checkStudy } from '../../../src/records/read-study.js';
import { tableNames } from '../../../src/records/study-tables.js';
import { temporaryFolder } from '../../support/temporary-folder.js';

const options = {
  example: resolve(__dirname, '../../../data/zircon-pigment'),
  cautionRule: 'Local rules come first.',
  cautions: ['Melt and water: keep them apart.'],
};

describe('a study begun', () => {
  it('holds plan, register, a guide and every table with its headings', async () => {
    const folder = join(temporaryFolder(), 'new-study');
    await beginStudy(folder, options);
    expect(readdirSync(folder).sort()).toEqual(
      ['README.md', 'equipment.json', 'study.json', ...tableNames.map((name) => `${name}.csv`)].sort(),
    );
    const guide = readFileSync(join(folder, 'README.md'), 'utf8');
    expect(guide).toContain('Melt and water: keep them apart.');
    expect(guide).toContain('**crucible with portion g**');
    expect(guide).toContain('Worked row (invented)');
  });

  it('carries nothing over from the example but its form: the check asks for every value', async () => {
    const folder = join(temporaryFolder(), 'new-study');
    await beginStudy(folder, options);
    expect(readFileSync(join(folder, 'study.json'), 'utf8')).not.toContain('Quillmere');
    const { issues } = await checkStudy(folder);
    const columns = issues.map((issue) => `${issue.file} ${issue.column}`);
    for (const key of ['title', 'laboratory', 'basis', 'nominal.portionG', 'internalStandard.mode']) {
      expect(columns, key).toContain(`study.json ${key}`);
    }
    expect(issues.every((issue) => issue.expected !== '')).toBe(true);
  });

  it('refuses a folder that holds something, and writes nothing', async () => {
    const folder = join(temporaryFolder(), 'new-study');
    await beginStudy(folder, options);
    const before = readdirSync(folder);
    await expect(beginStudy(folder, options)).rejects.toThrow(InputError);
    expect(readdirSync(folder)).toEqual(before);
  });
});
