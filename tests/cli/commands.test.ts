import { execFile } from 'node:child_process';
import {
  appendFileSync,
  cpSync,
  existsSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { zirconPigmentStudy } from '../../src/scenario/zircon-pigment-study.js';
import { validateMatrix } from '../../src/studies/matrix/validate-matrix.js';
import { temporaryFolder } from '../support/temporary-folder.js';

const root = resolve(__dirname, '../..');
const demo = join(root, 'data/zircon-pigment');

interface Ended {
  code: number;
  out: string;
  err: string;
}

function meltbook(...args: string[]): Promise<Ended> {
  return new Promise((done) => {
    execFile(
      process.execPath,
      [join(root, 'dist/cli.js'), ...args],
      { cwd: root, maxBuffer: 64e6 },
      (error, out, err) => {
        done({ code: error === null ? 0 : Number(error.code), out, err });
      },
    );
  });
}

/** A copy of the demonstration study in which one cell of one table is another. */
function broken(table: string, edit: (lines: string[]) => void): string {
  const folder = join(temporaryFolder(), 'zircon-pigment');
  cpSync(demo, folder, { recursive: true });
  const lines = readFileSync(join(folder, table), 'utf8').split('\n');
  edit(lines);
  writeFileSync(join(folder, table), lines.join('\n'));
  return folder;
}

/** Row 2 is the first below the heading. */
function setCell(lines: string[], row: number, heading: string, value: string): void {
  const cells = lines[row - 1]!.split(',');
  cells[lines[0]!.split(',').indexOf(heading)] = value;
  lines[row - 1] = cells.join(',');
}

describe('the command line', () => {
  it('lists its commands, and refuses one that there is not', async () => {
    const help = await meltbook('--help');
    expect(help.code).toBe(0);
    for (const name of ['begin', 'check', 'run', 'history', 'audit', 'self-check', 'coverage'])
      expect(help.out).toContain(name);
    const { version } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as { version: string };
    expect((await meltbook('--version')).out.trim()).toBe(version);
    expect((await meltbook('run', '--help')).out).toMatch(
      /50-after-an-equipment-change .*\n.*--set replacedEquipment/,
    );
    const none = await meltbook('run', '51', '--study', demo);
    expect([none.code, none.err]).toEqual([
      2,
      expect.stringContaining('found "51", expected one of: 10-plan-a-validation'),
    ]);
    const unknown = await meltbook('validate');
    expect([unknown.code, unknown.err]).toEqual([
      2,
      expect.stringContaining('found "validate", expected one of: begin'),
    ]);
    expect((await meltbook('check')).code).toBe(2);
    expect((await meltbook('check', demo, '--fast')).err).toContain('usage: meltbook check');
  });

  it('writes results and control history of all runs into a new folder', async () => {
    const folder = join(temporaryFolder(), 'found');
    const done = await meltbook('history', demo, folder);
    expect([done.code, done.err]).toEqual([0, '']);
    expect(done.out).toMatch(
      /^Invented data.*\n11 run\(s\) from 2026-03-02 to 2026-03-16: \d{4} results, \d+ control results\n/,
    );
    expect(readdirSync(folder).sort()).toEqual(['about.md', 'history.csv', 'results.csv']);
    const again = await meltbook('history', demo, folder);
    expect([again.code, again.err]).toEqual([2, expect.stringContaining('it is not overwritten')]);
    expect((await meltbook('history', demo)).err).toContain(
      'usage: meltbook history <study folder> <new folder>',
    );
  });

  it('finds no problem in the demonstration study, and recomputes the published figures', async () => {
    expect((await meltbook('check', demo)).out).toContain('No problem found.');
    const checked = await meltbook('self-check');
    expect([checked.code, checked.out]).toEqual([
      0,
      expect.stringMatching(
        /Of \d+ published figures \d+ agree to the last printed digit; .*known exceptions/,
      ),
    ]);
  });

  it.each([
    [
      'a broken mass',
      'digestions.csv',
      'row 5, column "flux g": found "2,O1"',
      (l: string[]) => setCell(l, 5, 'flux g', '"2,O1"'),
    ],
    [
      'a missing column',
      'digestions.csv',
      'row 1, column "crucible g"',
      (l: string[]) => {
        l[0] = l[0]!.replace('crucible g,', 'krucible g,');
      },
    ],
    [
      'a duplicate digestion',
      'digestions.csv',
      'row 3, column "digestion"',
      (l: string[]) => setCell(l, 3, 'digestion', 'D-001'),
    ],
    [
      'a negative intensity',
      'readings.csv',
      'row 9, column "intensity',
      (l: string[]) => setCell(l, 9, l[0]!.split(',').find((h) => h.startsWith('intensity'))!, '-12'),
    ],
    [
      'a wrong unit',
      'references.csv',
      'row 2, column "unit": found "%"',
      (l: string[]) => setCell(l, 2, 'unit', '%'),
    ],
    [
      'a reading of an unknown digestion',
      'readings.csv',
      'column "solution": found "D-999"',
      (l: string[]) => setCell(l, l.length - 1, 'solution', 'D-999'),
    ],
    [
      'an excluded row that does not exist',
      'exclusions.csv',
      'row 2, column "row key"',
      (l: string[]) => setCell(l, 2, 'row key', 'D-999|Ca'),
    ],
  ] as const)(
    'names %s by file, row and column, ends with 3 and issues nothing',
    async (_, table, place, edit) => {
      const study = broken(table, edit);
      const reports = join(temporaryFolder(), 'reports');
      const ended = await meltbook('run', '20-validate-a-matrix', '--study', study, '--reports', reports);
      expect(ended.code).toBe(3);
      expect(ended.err).toContain(table);
      expect(ended.err).toContain(place);
      expect(existsSync(reports)).toBe(false);
      const json = await meltbook('check', study, '--json');
      expect([json.code, (JSON.parse(json.out) as { issues: unknown[] }).issues.length > 0]).toEqual([
        3,
        true,
      ]);
    },
  );

  it('writes the demonstration study again, byte for byte', async () => {
    const folder = join(temporaryFolder(), 'zircon-pigment');
    expect((await meltbook('demo-data', '--folder', folder)).code).toBe(0);
    for (const name of readdirSync(demo)) {
      expect(readFileSync(join(folder, name), 'utf8'), name).toBe(readFileSync(join(demo, name), 'utf8'));
    }
  });

  it('prints verdicts of repeated studies', async () => {
    const ended = await meltbook('coverage', '--seeds', '1', '--first', '77', '--json');
    expect(JSON.parse(ended.out)).toMatchObject({ seeds: 1, allAsExpected: 1 });
  });
});

describe('issued reports', () => {
  const folder = mkdtempSync(join(tmpdir(), 'meltbook-test-'));
  const reports = join(folder, 'reports');
  const study = join(folder, 'zircon-pigment');
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  beforeAll(async () => {
    cpSync(demo, study, { recursive: true });
    // Nothing may depend on the truth behind the invented records.
    rmSync(join(study, 'truth.json'));
    for (const name of [
      '20-validate-a-matrix',
      '50-after-an-equipment-change',
      '70-accreditation-evidence',
    ]) {
      const ended = await meltbook('run', name, '--study', study, '--reports', reports);
      expect([name, ended.code, ended.code === 0 ? '' : ended.err]).toEqual([name, 0, '']);
    }
  });

  it('are numbered and hold report, JSON, tables, executed notebook and manifest', () => {
    expect(readdirSync(join(reports, 'zircon-pigment')).sort()).toEqual(['0001', '0002', '0003']);
    const names = readdirSync(join(reports, 'zircon-pigment/0001'));
    expect(names.sort()).toEqual([
      '20-validate-a-matrix.ipynb',
      'manifest.json',
      'report.html',
      'report.json',
      'tables',
    ]);
  });

  it('name their study and number on every page, as the folder that holds them', () => {
    for (const number of ['0001', '0002', '0003']) {
      const html = readFileSync(join(reports, 'zircon-pigment', number, 'report.html'), 'utf8');
      expect(html).toContain(`Report: <strong>zircon-pigment/${number}</strong>`);
      expect(html).not.toContain('draft, not issued');
    }
  });

  it('bear the figures that a direct call gives, to the last bit, with or without the file of truth', () => {
    const told = JSON.parse(readFileSync(join(reports, 'zircon-pigment/0001/report.json'), 'utf8')) as {
      data: { findings: unknown; results: { value: number | null }[] };
    };
    const direct = validateMatrix(zirconPigmentStudy({ seed: 20260302 }).records);
    const plain = (value: unknown): unknown =>
      JSON.parse(JSON.stringify(value, (_, v: unknown) => (v === Infinity ? 'Infinity' : v)));
    expect(plain(told.data.findings)).toEqual(plain(direct.findings));
    expect(told.data.results.map((r) => r.value)).toEqual(direct.study.results.map((r) => r.value));
  });

  it('are told apart by the audit once a byte is changed', async () => {
    const sound = await meltbook('audit', '--reports', reports);
    expect([sound.code, sound.out]).toEqual([
      0,
      expect.stringContaining('All 3 issue(s) are as they were written'),
    ]);
    appendFileSync(join(reports, 'zircon-pigment/0002/report.html'), ' ');
    const altered = await meltbook('audit', '--reports', reports);
    expect([altered.code, altered.out]).toEqual([
      5,
      expect.stringContaining('zircon-pigment/0002/report.html'),
    ]);
  });

  it('are not made where a parameter is unknown', async () => {
    const ended = await meltbook(
      'run',
      '50-after-an-equipment-change',
      '--study',
      study,
      '--reports',
      reports,
      '--set',
      'balance=BAL-2',
    );
    expect([ended.code, ended.err]).toEqual([
      2,
      expect.stringContaining('parameter balance: expected one of replacedEquipment, replacementEquipment'),
    ]);
  });

  it('are not made where a cell fails: the notebook is kept, nothing is numbered', async () => {
    const ledger = readFileSync(join(reports, 'ledger.jsonl'), 'utf8');
    const ended = await meltbook(
      'run',
      '50-after-an-equipment-change',
      '--study',
      study,
      '--reports',
      reports,
      '--set',
      'replacementEquipment=BAL-9',
    );
    expect(ended.code).toBe(4);
    expect(ended.err).toContain('found BAL-9, expected one of the register: BAL-1');
    expect(readdirSync(join(reports, 'zircon-pigment')).sort()).toEqual(['0001', '0002', '0003', 'failed']);
    expect(readFileSync(join(reports, 'ledger.jsonl'), 'utf8')).toBe(ledger);
    const [kept] = readdirSync(join(reports, 'zircon-pigment/failed'));
    const notebook = readFileSync(
      join(reports, 'zircon-pigment/failed', kept!, '50-after-an-equipment-change.ipynb'),
      'utf8',
    );
    expect(notebook).toContain('found BAL-9, expected one of the register: BAL-1');
  });
});
