import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { checkStudy } from '../../../src/records/read-study.js';
import { zirconRoutineFiles } from '../../../src/scenario/routine/write-zircon-routine.js';

const folder = resolve(__dirname, '../../../data/zircon-routine');

describe('the invented routine run', () => {
  it('is committed as its seed makes it', () => {
    for (const [name, content] of Object.entries(zirconRoutineFiles()))
      expect(readFileSync(join(folder, name), 'utf8'), name).toBe(content);
  });

  it('passes its check and says that it is invented', async () => {
    expect((await checkStudy(folder)).issues).toEqual([]);
    expect(readFileSync(join(folder, 'README.md'), 'utf8')).toContain('invented');
  });
});
