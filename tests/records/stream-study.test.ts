import { cpSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { RecordsError } from '../../src/errors.js';
import { readStudy } from '../../src/records/read-study.js';
import { streamStudy } from '../../src/records/stream-study.js';
import type { ReadingRecord } from '../../src/records/tables/readings.js';
import { temporaryFolder } from '../support/temporary-folder.js';

const demonstration = 'data/zircon-pigment';

/** The demonstration study with another text in place of one line of its readings. */
function withLine(number: number, change: (line: string) => string): string {
  const folder = join(temporaryFolder(), 'study');
  cpSync(demonstration, folder, { recursive: true });
  const file = join(folder, 'readings.csv');
  const lines = readFileSync(file, 'utf8').split('\n');
  lines[number - 1] = change(lines[number - 1]!);
  writeFileSync(file, lines.join('\n'));
  return folder;
}

async function readingsOf(folder: string): Promise<ReadingRecord[]> {
  const found: ReadingRecord[] = [];
  for await (const rows of (await streamStudy(folder)).runs()) {
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

describe('a study whose readings come run by run', () => {
  it('holds the records that readStudy gives', async () => {
    const whole = await readStudy(demonstration);
    const { records } = await streamStudy(demonstration);
    expect({ ...records, readings: whole.readings, missingTables: [] }).toEqual({
      ...whole,
      missingTables: [],
    });
    expect(await readingsOf(demonstration)).toEqual(whole.readings);
  });

  const faults: readonly (readonly [what: string, change: (line: string) => string])[] = [
    ['a number that is none', (line) => line.replace(/,\d+,(\d+)$/, ',12x,$1')],
    ['an unknown solution', (line) => line.replace(/(T[\d:]+),[^,]+/, '$1,NOBODY')],
    ['an unknown line', (line) => line.replace(/,(\d+\.\d+),/, ',999.9,')],
    ['a repeat that is there already', (line) => line.replace(/,1,(\d+),(\d+)$/, ',2,$1,$2')],
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
    expect(await issuesOf(readingsOf(folder))).toEqual(expected);
  });

  it('is refused without readings, and with a run in two parts', async () => {
    const folder = withLine(1, (line) => line);
    rmSync(join(folder, 'readings.csv'));
    expect(await issuesOf(streamStudy(folder))).toMatchObject([
      { file: 'readings.csv', found: 'no such file' },
    ]);
    const apart = withLine(2000, (line) => line.replace(/^R-02/, 'R-01'));
    const found = (await issuesOf(readingsOf(apart))).map((issue) => issue.found);
    expect(found).toContainEqual('readings of run R-01 after those of another');
  });
});
