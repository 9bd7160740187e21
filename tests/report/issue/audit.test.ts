import {
  appendFile,
  mkdir,
  mkdtemp,
  readdir,
  readFile,
  rename,
  rm,
  symlink,
  writeFile,
} from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { audit } from '../../../src/report/issue/audit.js';
import { readLedger } from '../../../src/report/issue/check-ledger.js';
import { writeIssue } from '../../../src/report/issue/write-issue.js';

let root: string;

beforeEach(async () => {
  root = await mkdtemp(join(tmpdir(), 'meltbook-audit-'));
  for (const study of ['demo', 'demo', 'other']) {
    await writeIssue({
      root,
      study,
      created: '2026-01-02T03:04:05Z',
      versions: {},
      seed: null,
      parameters: {},
      records: [],
      files: { 'report.html': 'a report', 'tables/verdicts.csv': 'a,b\r\n1,2\r\n' },
    });
  }
});
afterEach(() => rm(root, { recursive: true }));

const places = async (): Promise<string[]> => (await audit(root)).problems.map(({ place }) => place);

async function withByteFlipped(path: string, position: number, work: () => Promise<void>): Promise<void> {
  const whole = await readFile(path);
  const altered = Buffer.from(whole);
  altered[position] = (altered[position] ?? 0) ^ 1;
  await writeFile(path, altered);
  await work();
  await writeFile(path, whole);
}

describe('an audit', () => {
  it('finds nothing in sound evidence, and gives the hash to be noted', async () => {
    const found = await audit(root);
    expect(found).toMatchObject({ issues: 3, problems: [], interrupted: [] });
    expect(found.head).toMatch(/^[0-9a-f]{64}$/);
    expect(await audit(join(root, 'nowhere'))).toMatchObject({ issues: 0, problems: [] });
  });

  it('names the file in which any one byte was flipped', async () => {
    for (const issue of ['demo/0001', 'demo/0002', 'other/0001']) {
      for (const file of ['report.html', 'tables/verdicts.csv', 'manifest.json']) {
        const path = join(root, issue, file);
        const { length } = await readFile(path);
        const every = file === 'manifest.json' ? 13 : 1;
        for (let position = 0; position < length; position += every) {
          await withByteFlipped(path, position, async () => {
            expect(await places()).toEqual([`${issue}/${file}`]);
          });
        }
      }
    }
  });

  it('names the line of the ledger in which any one byte was flipped', async () => {
    const path = join(root, 'ledger.jsonl');
    const whole = await readFile(path);
    const lineOf = (position: number) => whole.subarray(0, position).toString().split('\n').length;
    for (let position = 0; position < whole.length; position++) {
      const altered = Buffer.from(whole);
      altered[position] = (altered[position] ?? 0) ^ 1;
      const first = readLedger(altered.toString()).problems[0];
      expect(first?.place, `byte ${position}`).toBe(`ledger.jsonl, line ${lineOf(position)}`);
    }
    for (let position = 0; position < whole.length; position += 37) {
      await withByteFlipped(path, position, async () => {
        expect((await places())[0]).toBe(`ledger.jsonl, line ${lineOf(position)}`);
      });
    }
  });

  it('names a file that is missing, one that was added, and one that became a link', async () => {
    const file = join(root, 'demo/0001/report.html');
    await rename(file, join(root, 'demo/0001/extra.html'));
    expect(await places()).toEqual(['demo/0001/report.html', 'demo/0001/extra.html']);
    await symlink('extra.html', file);
    expect(await places()).toEqual(['demo/0001/report.html', 'demo/0001/extra.html']);
  });

  it('names an issue whose folder is gone', async () => {
    await rm(join(root, 'demo/0002'), { recursive: true });
    expect(await places()).toEqual(['demo/0002/manifest.json']);
  });

  it('names a folder without a line, and anything that is no issue', async () => {
    await mkdir(join(root, 'demo/0003'));
    await writeFile(join(root, 'demo/notes.txt'), '');
    expect(await places()).toEqual(['demo/0003', 'demo/notes.txt']);
  });

  it('names the line after which the chain is broken, though each line holds by itself', async () => {
    const path = join(root, 'ledger.jsonl');
    const lines = (await readFile(path, 'utf8')).split('\n');
    await writeFile(path, [lines[0], lines[2], ''].join('\n'));
    expect((await places())[0]).toBe('ledger.jsonl, line 2');
    expect(await places()).toContain('demo/0002');
  });

  it('names a line that stands twice', async () => {
    const path = join(root, 'ledger.jsonl');
    await appendFile(path, `${(await readFile(path, 'utf8')).split('\n')[2]}\n`);
    expect(await places()).toContain('ledger.jsonl, line 4');
  });

  it('changes nothing', async () => {
    const before = await readdir(root, { recursive: true });
    await mkdir(join(root, 'demo/.0009'));
    const found = await audit(root);
    expect(found.interrupted).toEqual(['demo/.0009']);
    expect(await readdir(root, { recursive: true })).toEqual(
      expect.arrayContaining([...before, 'demo/.0009']),
    );
  });
});
