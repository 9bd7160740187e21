import { type ChildProcess, spawn } from 'node:child_process';
import { cp, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { audit } from '../../../src/report/issue/audit.js';
import { writeFailedRun } from '../../../src/report/issue/write-failed-run.js';
import { type IssueRequest, writeIssue } from '../../../src/report/issue/write-issue.js';
import { compiledSources } from '../../support/compiled-sources.js';

let compiled: string;
let folder: string;
let root: string;

beforeAll(async () => {
  compiled = compiledSources();
  folder = await mkdtemp(join(tmpdir(), 'meltbook-issues-'));
});
beforeEach(async () => {
  root = await mkdtemp(join(folder, 'reports-'));
});
afterAll(async () => {
  await rm(folder, { recursive: true });
  await rm(dirname(compiled), { recursive: true });
});

const request = (change: Partial<IssueRequest> = {}): IssueRequest => ({
  root,
  study: 'demo',
  created: '2026-01-02T03:04:05Z',
  versions: { meltbook: '0.1.0', node: 'v20.20.2' },
  seed: 7,
  parameters: { level: 'low' },
  records: [{ path: 'digestions.csv', bytes: 12, sha256: 'ab' }],
  files: { 'report.html': '<p>', 'report.json': '{}', 'tables/verdicts.csv': 'a\r\n' },
  ...change,
});

interface Ended {
  readonly signal: string | null;
  readonly output: string;
}

function writer(place: string, count: number, step = 0, moment = 'after'): Promise<Ended> {
  const script = join(__dirname, 'writer-process.cjs');
  const child: ChildProcess = spawn(process.execPath, [
    script,
    compiled,
    place,
    `${count}`,
    `${step}`,
    moment,
  ]);
  let output = '';
  child.stdout?.on('data', (chunk) => {
    output += chunk;
  });
  child.stderr?.on('data', (chunk) => {
    output += chunk;
  });
  return new Promise((resolve) => child.on('close', (_, signal) => resolve({ signal, output })));
}

async function ledgerNumbers(place: string): Promise<string[]> {
  const text = await readFile(join(place, 'ledger.jsonl'), 'utf8').catch(() => '');
  const lines = text.split('\n').filter((line) => line !== '');
  return lines.map((line) => (JSON.parse(line) as { number: string }).number);
}

const visible = async (place: string): Promise<string[]> =>
  (await readdir(join(place, 'demo')).catch(() => [])).filter((name) => !name.startsWith('.')).sort();

describe('writing an issue', () => {
  it('numbers the issues of a study from 1, keeps all files and names each with its hash', async () => {
    const first = await writeIssue(request());
    const second = await writeIssue(request({ files: (number) => ({ 'report.html': `number ${number}` }) }));
    const other = await writeIssue(request({ study: 'other' }));
    expect([first.number, second.number, other.number]).toEqual(['0001', '0002', '0001']);
    expect(await readFile(join(root, 'demo/0001/tables/verdicts.csv'), 'utf8')).toBe('a\r\n');
    expect(await readFile(join(root, 'demo/0002/report.html'), 'utf8')).toBe('number 0002');
    const manifest = JSON.parse(await readFile(join(root, 'demo/0001/manifest.json'), 'utf8'));
    expect(manifest).toEqual(first.manifest);
    expect(manifest).toMatchObject({ seed: 7, parameters: { level: 'low' }, versions: { node: 'v20.20.2' } });
    // SHA-256 of the three bytes "<p>", by coreutils.
    expect(manifest.files[0]).toEqual({
      path: 'report.html',
      bytes: 3,
      sha256: '33f2799467177287a29260780a107ac98ea63dd6165f67fcc0d74767d0a82090',
    });
    expect(await audit(root)).toMatchObject({ issues: 3, problems: [], interrupted: [] });
  });

  it('chains the lines of the ledger by SHA-256', async () => {
    await writeIssue(request());
    await writeIssue(request());
    const [first = '', second = ''] = (await readFile(join(root, 'ledger.jsonl'), 'utf8')).split('\n');
    const { createHash } = await import('node:crypto');
    expect((JSON.parse(first) as { previous: string }).previous).toBe('0'.repeat(64));
    expect((JSON.parse(second) as { previous: string }).previous).toBe(
      createHash('sha256').update(first).digest('hex'),
    );
  });

  it('never gives a number again, though its folder is gone', async () => {
    await writeIssue(request());
    await rm(join(root, 'demo/0001'), { recursive: true });
    expect((await writeIssue(request())).number).toBe('0002');
  });

  it.each(['', '../x', 'a/b', '.hidden', 'a b'])('refuses %j as the name of a study', async (study) => {
    await expect(writeIssue(request({ study }))).rejects.toThrow('study: found');
  });

  it.each([
    [{}, 'found none'],
    [{ 'manifest.json': '' }, 'a name kept'],
    [{ '../outside': '' }, 'stays inside'],
    [{ [join(tmpdir(), 'outside')]: '' }, 'stays inside'],
  ])('refuses the files %j and leaves nothing', async (files, message) => {
    await expect(writeIssue(request({ files }))).rejects.toThrow(message);
    expect(await visible(root)).toEqual([]);
    expect((await readdir(root)).filter((name) => name.startsWith('.'))).toEqual([]);
  });

  it('adds nothing to a ledger that was altered', async () => {
    await writeIssue(request());
    const path = join(root, 'ledger.jsonl');
    await writeFile(path, (await readFile(path, 'utf8')).replace('2026', '2025'));
    await expect(writeIssue(request())).rejects.toThrow('ledger.jsonl, line 1');
    expect(await visible(root)).toEqual(['0001']);
  });

  it('keeps failed runs apart, without number or line', async () => {
    const failed = { root, study: 'demo', created: '2026-01-02T03:04:05Z', files: { 'run.ipynb': '{}' } };
    const folders = [await writeFailedRun(failed), await writeFailedRun(failed)];
    expect(new Set(folders).size).toBe(2);
    expect((await writeIssue(request())).number).toBe('0001');
    expect(await readdir(join(root, 'demo/failed'))).toHaveLength(2);
    expect(await audit(root)).toMatchObject({ problems: [], unissued: ['demo/failed'] });
  });

  it('counts the draft of a notebook run by hand as no issue and no fault, and nothing else beside issues', async () => {
    await writeIssue(request());
    await cp(join(root, 'demo/0001'), join(root, 'demo/draft'), { recursive: true });
    expect(await audit(root)).toMatchObject({ issues: 1, problems: [], unissued: ['demo/draft'] });
    await writeFile(join(root, 'demo/drafts'), '');
    await rm(join(root, 'demo/draft'), { recursive: true });
    await writeFile(join(root, 'demo/draft'), 'a file in place of the folder');
    expect((await audit(root)).problems.map(({ place }) => place).sort()).toEqual([
      'demo/draft',
      'demo/drafts',
    ]);
  });
});

describe('a run that is killed', () => {
  it.each(['after', 'half-way through'])(
    'leaves no half issue and a valid ledger, killed %s any step, and the next run recovers',
    async (moment) => {
      await writer(root, 1);
      const counted = await writer(await mkdtemp(join(folder, 'count-')), 1, 0, moment);
      const total = Number(counted.output);
      expect(total).toBeGreaterThanOrEqual(moment === 'after' ? 20 : 4);
      let killed = 0;
      for (let step = 1; step <= total + 1; step++) {
        const place = join(folder, `${moment}-${step}`);
        await cp(root, place, { recursive: true });
        const { signal } = await writer(place, 1, step, moment);
        if (signal === 'SIGKILL') killed += 1;
        const numbers = await ledgerNumbers(place);
        const state = await audit(place);
        expect(state.problems, `step ${step}`).toEqual([]);
        expect(numbers, `step ${step}`).toEqual(numbers.length === 1 ? ['0001'] : ['0001', '0002']);
        for (const name of await visible(place)) expect(numbers, `step ${step}`).toContain(name);
        const next = await writeIssue(request({ root: place }));
        expect(next.line.sequence).toBe(numbers.length + 1);
        expect(await visible(place)).toEqual([...numbers, next.number]);
        expect(await audit(place)).toMatchObject({ problems: [], interrupted: [] });
        const hidden = (await readdir(place, { recursive: true })).filter((name) => /(^|\/)\./.test(name));
        expect(hidden, `step ${step}`).toEqual([]);
      }
      expect(killed).toBeGreaterThanOrEqual(total);
    },
    300_000,
  );
});

describe('runs at once', () => {
  it('get different numbers, and all their lines chain', async () => {
    const ended = await Promise.all([1, 2, 3].map(() => writer(root, 4)));
    expect(ended.map(({ signal, output }) => [signal, Number(output) > 0])).toEqual(
      Array(3).fill([null, true]),
    );
    const expected = Array.from({ length: 12 }, (_, index) => String(index + 1).padStart(4, '0'));
    expect(await visible(root)).toEqual(expected);
    expect(await ledgerNumbers(root)).toEqual(expected);
    expect(await audit(root)).toMatchObject({ issues: 12, problems: [], interrupted: [] });
  });

  it('take turns in one process too', async () => {
    const issues = await Promise.all([request(), request(), request()].map(writeIssue));
    expect(issues.map(({ number }) => number).sort()).toEqual(['0001', '0002', '0003']);
  });

  it('say who holds the folder when they have waited long enough', async () => {
    const { withExclusiveLock } = await import('../../../src/report/issue/exclusive-lock.js');
    await withExclusiveLock(join(root, '.lock'), async () => {
      await expect(writeIssue(request({ waitMs: 50 }))).rejects.toThrow(`held by process ${process.pid}`);
    });
    expect((await writeIssue(request())).number).toBe('0001');
  });
});
