import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { describeIssue, InputError, RecordsError } from '../../src/errors.js';
import { readBudgetFile } from '../../src/records/budget-file.js';
import { sizeLimits } from '../../src/records/size-limits.js';
import { reference } from '../support/reference.js';

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'meltbook-budget-'));
});
afterAll(() => rm(folder, { recursive: true }));

async function written(content: string | Uint8Array): Promise<string> {
  const path = join(folder, 'budget.json');
  await writeFile(path, content);
  return path;
}

describe('readBudgetFile', () => {
  const { budget } = reference<{ budget: object }>('uncertainty/gum-h1-end-gauge');

  it('reads a budget file, with or without a byte order mark', async () => {
    const text = JSON.stringify(budget);
    expect(await readBudgetFile(await written(text))).toEqual(budget);
    expect(await readBudgetFile(await written(`\ufeff${text}`))).toEqual(budget);
  });

  it.each([
    ['{"format": ', 'expected JSON in UTF-8'],
    [new Uint8Array([0x22, 0xff, 0x22]), 'expected JSON in UTF-8'],
    ['{}', 'key "inputs": found no such key'],
    [' '.repeat(sizeLimits.jsonBytes + 1), 'expected at most'],
  ])('refuses a file that is none (%#)', async (content, message) => {
    const failure = readBudgetFile(await written(content));
    await expect(failure).rejects.toThrow(RecordsError);
    await expect(failure).rejects.toThrow(message);
  });

  it('names an undefined name in its equation, and an impossible correlation beside it', async () => {
    const { equations, ...rest } = budget as { equations: { expression: string }[] };
    const [first, ...others] = equations;
    const broken = {
      ...rest,
      equations: [{ ...first, expression: `${first!.expression} + FF` }, ...others],
      correlations: [{ first: 'theta_bar', second: 'dtheta', coefficient: 2 }],
    };
    const failure: unknown = await readBudgetFile(await written(JSON.stringify(broken))).catch((e) => e);
    expect((failure as RecordsError).issues.map(describeIssue)).toEqual([
      expect.stringContaining('budget.json, key "equations[0].expression": found "FF", which is not defined'),
      'budget.json, key "correlations[0].coefficient": found 2; expected a number from -1 to 1',
    ]);
  });

  it('refuses a file that is missing, or a folder', async () => {
    await expect(readBudgetFile(join(folder, 'missing.json'))).rejects.toThrow(InputError);
    await expect(readBudgetFile(folder)).rejects.toThrow('found no file');
    await expect(readBudgetFile(join(folder, 'nosuch.json'))).rejects.toThrow('found no such file');
  });
});
