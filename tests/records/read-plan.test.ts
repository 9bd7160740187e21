import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { RecordsError } from '../../src/errors.js';
import { readPlan } from '../../src/records/read-plan.js';
import { studyPlan } from '../../src/scenario/plan/study-plan.js';

const plan = studyPlan({ stability: [], nativeCheck: [] });

function folderWith(content: unknown): string {
  const folder = mkdtempSync(join(tmpdir(), 'meltbook-test-'));
  writeFileSync(join(folder, 'study.json'), JSON.stringify(content));
  return folder;
}

describe('reading a plan', () => {
  it('needs study.json alone', async () => {
    const read = await readPlan(folderWith(plan));
    expect(read.plan).toEqual(plan);
    expect(read.provenance.map((f) => f.file)).toEqual(['study.json']);
  });

  it('names the key of every expectation that fits no analyte or level', async () => {
    const [first, second] = plan.planning!.expectations;
    const expectations = [
      { ...first, analyte: 'W' },
      { ...second, level: 'top' },
    ];
    const broken = readPlan(folderWith({ ...plan, planning: { ...plan.planning, expectations } }));
    const issues = await broken.catch((error: unknown) => (error as RecordsError).issues);
    expect(issues).toHaveLength(2);
    expect(issues).toMatchObject([
      { file: 'study.json', column: 'planning.expectations[0].analyte', found: '"W"' },
      {
        file: 'study.json',
        column: 'planning.expectations[1].level',
        expected: 'one of: low, middle, high, *',
      },
    ]);
  });

  it('refuses a power that is none, and a folder without a plan', async () => {
    await expect(readPlan(folderWith({ ...plan, planning: { ...plan.planning, power: 1 } }))).rejects.toThrow(
      RecordsError,
    );
    await expect(readPlan(mkdtempSync(join(tmpdir(), 'meltbook-test-')))).rejects.toThrow(RecordsError);
  });
});
