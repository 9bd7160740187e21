import { cpSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { RecordsError } from '../../src/errors.js';
import { ReadingThread } from '../../src/records/csv/thread/reading-thread.js';
import { IssueList } from '../../src/records/issue-list.js';
import { readStudy } from '../../src/records/read-study.js';
import { streamStudy } from '../../src/records/stream-study.js';
import type { ReadingRecord } from '../../src/records/tables/readings.js';
import { writeStudy } from '../../src/records/write-study.js';
import { temporaryFolder } from '../support/temporary-folder.js';
import { smallStudy } from './small-study.js';

const demonstration = 'data/zircon-pigment';

/** The demonstration study with another text in place of one line of its readings: the first of a repeat 1 from a line on. */
function withLine(from: number, change: (line: string) => string): string {
  const folder = join(temporaryFolder(), 'study');
  cpSync(demonstration, folder, { recursive: true });
  const file = join(folder, 'readings.csv');
  const lines = readFileSync(file, 'utf8').split('\n');
  const place = lines.findIndex((line, i) => i >= from - 1 && /,1,\d+,\d+$/.test(line));
  lines[place] = change(lines[place]!);
  writeFileSync(file, lines.join('\n'));
  return folder;
}

/** The demonstration study with another day of expiry of one standard. */
function withExpiry(day: string, row = 2): string {
  const folder = withLine(1, (line) => line);
  const file = join(folder, 'standards.csv');
  const lines = readFileSync(file, 'utf8').split('\n');
  lines[row - 1] = lines[row - 1]!.replace(/\d{4}-\d\d-\d\d/, day);
  writeFileSync(file, lines.join('\n'));
  return folder;
}

const headingOf = (study: string) => readFileSync(join(study, 'readings.csv'), 'utf8').split('\n')[0]!;

async function readingsOf(folder: string, inThread = false): Promise<ReadingRecord[]> {
  const found: ReadingRecord[] = [];
  for await (const rows of (await streamStudy(folder, { inThread })).runs()) {
    for (let i = 0; i < rows.count; i++) found.push(rows.record(i));
  }
  return found;
}

async function issuesOf(read: Promise<unknown>) {
  const error: unknown = await read.then(
    () => null,
    (reason: unknown) => reason,
  );
  expect(error).toBeInstanceOf(RecordsError);
  return (error as RecordsError).issues;
}

describe.each([
  ['by the thread that asks for them', false],
  ['by a thread of their own', true],
])('a study whose readings come run by run, %s', (_, inThread) => {
  it('holds the records that readStudy gives', async () => {
    const whole = await readStudy(demonstration);
    const { records } = await streamStudy(demonstration);
    expect({ ...records, readings: whole.readings, missingTables: [] }).toEqual({
      ...whole,
      missingTables: [],
    });
    expect(await readingsOf(demonstration, inThread)).toEqual(whole.readings);
  });

  const faults: readonly (readonly [what: string, change: (line: string) => string])[] = [
    ['a number that is none', (line) => line.replace(/,\d+,(\d+)$/, ',12x,$1')],
    ['an unknown solution', (line) => line.replace(/(T[\d:]+),[^,]+/, '$1,NOBODY')],
    ['an unknown line', (line) => line.replace(/,(\d+\.\d+),/, ',999.9,')],
    ['a repeat that is there already', (line) => line.replace(/,1,(\d+),(\d+)$/, ',2,$1,$2')],
    ['a reading without its internal standard', (line) => line.replace(/,\d+$/, ',')],
    ['a time before the position ahead', (line) => line.replace(/\d{4}-(\d\d-\d\dT)/, '2019-$1')],
    ['a position with another solution', (line) => line.replace(/^(R-02),\d+/, '$1,1')],
  ];

  it.each(faults)('is refused with %s in the words of readStudy', async (_, change) => {
    const folder = withLine(2000, (line) => {
      expect(change(line)).not.toBe(line);
      return change(line);
    });
    const expected = (await issuesOf(readStudy(folder))).filter(({ file }) => file === 'readings.csv');
    expect(expected.length).toBeGreaterThan(0);
    expect(await issuesOf(readingsOf(folder, inThread))).toEqual(expected);
  });

  it('is refused at the first run whose standards have expired, in the words of readStudy', async () => {
    const whole = await readStudy(demonstration);
    const days = new Map<string, string>();
    for (const { run, time } of whole.readings) days.set(run, time.slice(0, 10));
    const { name } = whole.standards[0]!;
    const calibrated = new Set(
      whole.calibration.filter((row) => row.preparedFrom === name).map(({ run }) => run),
    );
    const runs = [...days].filter(([run]) => calibrated.has(run));
    const [lastRun, lastDay] = runs.at(-1)!;
    const [dayAhead] = runs
      .map(([, day]) => day)
      .filter((day) => day < lastDay)
      .slice(-1);
    // Good for every day but the last: the same issues, whichever way it is read.
    const late = withExpiry(dayAhead!);
    const issues = await issuesOf(readStudy(late));
    expect(issues).toMatchObject([
      { code: 'expired', file: 'standards.csv', row: 2, column: 'expiry', found: `"${dayAhead}"` },
    ]);
    expect(issues[0]!.expected).toBe(`${lastDay} or later: used by run ${lastRun}`);
    expect(await issuesOf(readingsOf(late, inThread))).toEqual(issues);
    // Expired from the start: nothing is handed over.
    const early = (await streamStudy(withExpiry('2020-01-01'), { inThread })).runs();
    const [firstRun, firstDay] = runs[0]!;
    expect((await issuesOf(early.next()))[0]).toMatchObject({
      found: '"2020-01-01"',
      expected: `${firstDay} or later: used by run ${firstRun}`,
    });
  });

  it('is refused where the check solution or the certificate of the spectrometer has expired, in the words of readStudy', async () => {
    const { standards, readings, plan } = await readStudy(demonstration);
    const row = standards.findIndex(({ name }) => name === plan.driftCheckSolution) + 2;
    const lastDay = readings.at(-1)!.time.slice(0, 10);
    const late = withExpiry('2026-03-03', row);
    const issues = await issuesOf(readStudy(late));
    expect(issues).toMatchObject([{ code: 'expired', file: 'standards.csv', row, found: '"2026-03-03"' }]);
    const first = await issuesOf(readingsOf(late, inThread));
    expect(first).toMatchObject([{ code: 'expired', file: 'standards.csv', row, found: '"2026-03-03"' }]);
    expect(lastDay > '2026-03-03').toBe(true);
    const folder = withLine(1, (line) => line);
    const register = join(folder, 'equipment.json');
    const equipment = JSON.parse(readFileSync(register, 'utf8')) as Record<string, unknown>[];
    const due = equipment.map((each) => (each.id === 'ICP-1' ? { ...each, dueOn: '2026-02-28' } : each));
    writeFileSync(register, JSON.stringify(due));
    const [expired] = await issuesOf(readStudy(folder));
    expect(expired).toMatchObject({ code: 'spectrometer', file: 'readings.csv', row: 2, column: 'time' });
    const [streamed] = await issuesOf(readingsOf(folder, inThread));
    expect({ ...streamed, found: '' }).toEqual({ ...expired, found: '' });
  });

  it('is refused without readings, and with a run in two parts', async () => {
    const folder = withLine(1, (line) => line);
    rmSync(join(folder, 'readings.csv'));
    expect(await issuesOf(streamStudy(folder, { inThread }))).toMatchObject([
      { file: 'readings.csv', found: 'no such file' },
    ]);
    writeFileSync(join(folder, 'readings.csv'), `${headingOf(demonstration)}\n`);
    const whole = (await issuesOf(readStudy(folder))).filter(({ file }) => file === 'readings.csv');
    expect(whole).toMatchObject([{ found: 'no row below the heading' }]);
    expect(await issuesOf(readingsOf(folder, inThread))).toEqual(whole);
    const apart = withLine(2000, (line) => line.replace(/^R-02/, 'R-01'));
    const found = (await issuesOf(readingsOf(apart, inThread))).map((issue) => issue.found);
    expect(found).toContainEqual('readings of run R-01 after those of another');
  });
});

describe('a study whose readings come run by run', () => {
  it('is refused with the exclusion of a reading that there is not, in the words of readStudy', async () => {
    const folder = withLine(1, (line) => line);
    const { readings } = await readStudy(folder);
    const { run, position, analyte, lineNm } = readings.at(-1)!;
    const key = (repeat: number) => `${run}|${position}|${analyte}|${lineNm}|${repeat}`;
    const file = join(folder, 'exclusions.csv');
    const rows = [key(1), key(9), 'R-99|1|Zr|343.823|1'].map((each) => `readings,${each},S,2026-03-17,cause`);
    writeFileSync(file, `${readFileSync(file, 'utf8')}${rows.join('\n')}\n`);
    const issues = await issuesOf(readStudy(folder));
    expect(issues.map(({ found }) => found)).toEqual([`"${key(9)}"`, '"R-99|1|Zr|343.823|1"']);
    expect(await issuesOf(readingsOf(folder))).toEqual(issues);
  });

  it('is refused with readings in a workbook, which it names, alone or beside the file', async () => {
    const folder = join(temporaryFolder(), 'study');
    await writeStudy(folder, smallStudy, { form: 'xlsx' });
    const refused = {
      ...{ file: 'tables.xlsx, sheet readings', found: 'a table of readings' },
      expected: 'the readings in readings.csv alone, to be read run by run',
    };
    expect(await issuesOf(streamStudy(folder))).toMatchObject([refused]);
    writeFileSync(join(folder, 'readings.csv'), `${headingOf(demonstration)}\n`);
    expect(await issuesOf(streamStudy(folder))).toMatchObject([refused]);
  });
});

describe('a thread that reads a study', () => {
  it('can be left at any run, and asked for again', async () => {
    const { runs } = await streamStudy(demonstration, { inThread: true });
    const expected = await readingsOf(demonstration);
    for (let round = 0; round < 2; round++) {
      for await (const rows of runs()) {
        expect(rows.record(0)).toEqual(expected[0]);
        break;
      }
    }
    let count = 0;
    for await (const rows of runs()) count += rows.count;
    expect(count).toBe(expected.length);
  });

  it('is ended with a study that is refused', async () => {
    const folder = withLine(2, (line) => line);
    writeFileSync(join(folder, 'digestions.csv'), 'nonsense\n');
    const before = process.getActiveResourcesInfo().filter((name) => name === 'MessagePort').length;
    expect((await issuesOf(streamStudy(folder, { inThread: true }))).length).toBeGreaterThan(0);
    const after = process.getActiveResourcesInfo().filter((name) => name === 'MessagePort').length;
    expect(after).toBeLessThanOrEqual(before);
  });

  it('that fails says so', async () => {
    const thread = new ReadingThread({
      path: join(temporaryFolder(), 'nothing.csv'),
      file: 'nothing.csv',
      decimalMark: null,
    });
    await expect(thread.runs(new IssueList()).next()).rejects.toThrow(/no such file/);
  });

  it('that was ended before its table says so', async () => {
    const path = join(demonstration, 'readings.csv');
    const thread = new ReadingThread({ path, file: 'readings.csv', decimalMark: 'point' });
    await thread.end();
    await expect(thread.runs(new IssueList()).next()).rejects.toThrow(
      'readings.csv: the thread that reads it ended before the file did',
    );
  });
});
