import { closeSync, ftruncateSync, openSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { describeIssue } from '../../src/errors.js';
import { decodeCsvTable } from '../../src/records/csv/read-csv-table.js';
import { IssueList, mostIssuesPerFile } from '../../src/records/issue-list.js';
import { checkStudy } from '../../src/records/read-study.js';
import { type SizeLimits, sizeLimits } from '../../src/records/size-limits.js';
import { moistureTable } from '../../src/records/tables/moisture.js';
import { StudyFiles } from './broken-study.js';

const heading = 'sample,loss g/100 g,basis,standard uncertainty g/100 g';
const row = (sample: string) => `${sample},0.5,as received to dry,0.01`;

function decode(lines: readonly string[], limits: Partial<SizeLimits>) {
  const issues = new IssueList();
  const text = `${lines.join('\n')}\n`;
  const table = decodeCsvTable(moistureTable, text, 'moisture.csv', 'point', issues, {
    ...sizeLimits,
    ...limits,
  });
  return { problems: issues.all().map(describeIssue), table };
}

/** Gives a file of the study a length without filling the disc. */
function stretch(folder: string, file: string, bytes: number): void {
  const descriptor = openSync(join(folder, file), 'a');
  ftruncateSync(descriptor, bytes);
  closeSync(descriptor);
}

describe('limits on size', () => {
  it('takes a table up to the limits, and refuses one beyond them at the row where it passes them', () => {
    const lines = [heading, row('S-1'), row('S-2'), row('S-3')];
    expect(decode(lines, { rows: 4, columns: 4 }).problems).toEqual([]);
    const long = decode(lines, { rows: 3 });
    expect(long.problems).toEqual(['moisture.csv, row 4: found more rows; expected at most 3 rows']);
    expect(long.table.isWhole).toBe(false);
    expect(decode(lines, { columns: 3 }).problems).toEqual([
      'moisture.csv, row 1: found 4 cells; expected at most 3 cells',
    ]);
  });

  it('refuses a row that never ends', () => {
    const { problems } = decode([heading, `"${'x'.repeat(3000)}`], { csvRowBytes: 2000 });
    expect(problems).toEqual([
      'moisture.csv, row 2: found a longer row; expected a row of at most 2000 bytes (is a quotation mark left open?)',
    ]);
  });

  it('takes a cell as long as a spreadsheet holds, and no longer', () => {
    const longest = 'x'.repeat(sizeLimits.cellCharacters);
    expect(decode([heading, row(longest)], {}).problems).toEqual([]);
    expect(decode([heading, row(`${longest}x`)], {}).problems).toEqual([
      `moisture.csv, row 2, column "sample": found "${'x'.repeat(60)}…"; expected a name without a vertical bar`,
    ]);
  });

  it.each([
    ['study.json', sizeLimits.jsonBytes],
    ['equipment.json', sizeLimits.jsonBytes],
    ['history.csv', sizeLimits.csvBytes],
    ['tables.xlsx', sizeLimits.workbookBytes],
  ])('does not open %s beyond %d bytes', async (file, most) => {
    const folder = new StudyFiles().write();
    stretch(folder, file, most + 1);
    const { issues } = await checkStudy(folder);
    expect(issues.filter((each) => each.file === file)).toEqual([
      {
        code: 'file',
        file,
        row: null,
        column: null,
        found: `${most + 1} bytes`,
        expected: `at most ${most} bytes`,
      },
    ]);
  });

  it('lists so many problems of a file and counts the others', async () => {
    const folder = new StudyFiles().write();
    const broken = Array.from(
      { length: mostIssuesPerFile + 7 },
      (_, i) => `${i === 0 ? 'RM-1' : `S-${i}`},x${i},as received to dry,0.01`,
    );
    writeFileSync(join(folder, 'moisture.csv'), `${[heading, ...broken].join('\n')}\n`);
    const { issues } = await checkStudy(folder);
    expect(issues).toHaveLength(mostIssuesPerFile + 1);
    expect(describeIssue(issues.at(-1)!)).toBe(
      'moisture.csv: found 7 more problem(s); expected the first 1000 to be mended first',
    );
  });

  it('tells what is wrong alike in many rows once, with the first of them', async () => {
    const folder = new StudyFiles().write();
    const broken = Array.from(
      { length: 1500 },
      (_, i) => `${i === 0 ? 'RM-1' : `S-${i}`},x,as received to dry,0.01`,
    );
    writeFileSync(join(folder, 'moisture.csv'), `${[heading, ...broken].join('\n')}\n`);
    const { issues } = await checkStudy(folder);
    expect(issues.map(describeIssue)).toEqual([
      'moisture.csv, row 2, column "loss g/100 g": found "x" (and in 1499 more row(s)); expected a number above -100 and below 100',
    ]);
  });
});
