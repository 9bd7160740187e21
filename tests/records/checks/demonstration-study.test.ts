import { cpSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { RecordIssue } from '../../../src/errors.js';
import { checkStudy, readStudy } from '../../../src/records/read-study.js';
import { temporaryFolder } from '../../support/temporary-folder.js';
import { splitLine } from '../broken-study.js';

const demonstration = resolve(__dirname, '../../../data/zircon-pigment');

/** A copy of the demonstration study with one table edited as lines of text. */
function copyWith(table: string, edit: (lines: string[]) => void): string {
  const folder = join(temporaryFolder(), 'study');
  cpSync(demonstration, folder, { recursive: true });
  const lines = readFileSync(join(folder, table), 'utf8').trimEnd().split('\n');
  edit(lines);
  writeFileSync(join(folder, table), `${lines.join('\n')}\n`);
  return folder;
}

/** The last row again, with some cells changed; says which row it became. */
function appendLike(lines: string[], row: number, changes: Readonly<Record<string, string>> = {}): void {
  lines.push(lines[row - 1]!);
  for (const [heading, value] of Object.entries(changes)) setCell(lines, lines.length, heading, value);
}

function setCell(lines: string[], row: number, heading: string, value: string): void {
  const column = lines[0]!.split(',').indexOf(heading);
  const cells = splitLine(lines[row - 1]!);
  if (column < 0) throw new Error(`no column ${heading}`);
  cells[column] = value;
  lines[row - 1] = cells.join(',');
}

type Case = readonly [what: string, table: string, edit: (lines: string[]) => void, issue: RecordIssue];

const cases: readonly Case[] = [
  [
    'a broken mass',
    'digestions.csv',
    (l) => setCell(l, 5, 'flux g', '2.O1'),
    issue('number', 'digestions.csv', 5, 'flux g', '"2.O1"', 'a number above 0'),
  ],
  [
    'a portion that weighs less than nothing',
    'digestions.csv',
    (l) => setCell(l, 2, 'crucible with portion g', '34.77'),
    issue(
      'masses',
      'digestions.csv',
      2,
      'crucible with portion g',
      '34.77',
      'more than the empty crucible, 34.771 g',
    ),
  ],
  [
    'a vessel that is lighter when full',
    'digestions.csv',
    (l) => setCell(l, 2, 'vessel with solution and crucible g', '60.1'),
    issue(
      'masses',
      'digestions.csv',
      2,
      'vessel with solution and crucible g',
      '60.1',
      'more than the empty vessel and the crucible together, 65.291 g + 34.771 g',
    ),
  ],
  [
    'a negative mass',
    'digestions.csv',
    (l) => setCell(l, 3, 'vessel empty g', '-65.531'),
    issue('number', 'digestions.csv', 3, 'vessel empty g', '"-65.531"', 'a number above 0, or nothing'),
  ],
  [
    'a lost tare in a validation',
    'digestions.csv',
    (l) => setCell(l, 3, 'vessel empty g', ''),
    issue(
      'tare',
      'digestions.csv',
      3,
      'vessel empty g',
      'an empty cell',
      'a number above 0: only a routine run goes on without it',
    ),
  ],
  [
    'a missing column',
    'digestions.csv',
    (l) => {
      l.forEach((line, i) => {
        l[i] = splitLine(line)
          .filter((_, column) => column !== 5)
          .join(',');
      });
    },
    issue('missing column', 'digestions.csv', 1, 'operator', 'no such column', 'a column "operator": a text'),
  ],
  [
    'a duplicate digestion',
    'digestions.csv',
    (l) => appendLike(l, 2),
    issue(
      'duplicate',
      'digestions.csv',
      151,
      'digestion',
      '"D-001"',
      'a key that no other row bears (row 2 has it)',
    ),
  ],
  [
    'a negative intensity',
    'readings.csv',
    (l) => setCell(l, 9, 'intensity counts/s', '-12'),
    issue('number', 'readings.csv', 9, 'intensity counts/s', '"-12"', 'a number of at least 0'),
  ],
  [
    'a wrong unit in a cell',
    'references.csv',
    (l) => setCell(l, 2, 'unit', '%'),
    issue('choice', 'references.csv', 2, 'unit', '"%"', 'one of: mg/kg, g/100 g'),
  ],
  [
    'a reading of an unknown digestion',
    'readings.csv',
    (l) => appendLike(l, l.length, { position: '999', solution: 'D-999' }),
    issue(
      'unknown solution',
      'readings.csv',
      14234,
      'solution',
      '"D-999"',
      expect.stringMatching(
        /^a digestion, a dilution, a standard solution of run R-\d+ in the table calibration, a solution of the table additions, or a check solution of the plan$/,
      ) as unknown as string,
    ),
  ],
  [
    'an excluded row that does not exist',
    'exclusions.csv',
    (l) => setCell(l, 2, 'row key', 'D-999|Ca'),
    issue(
      'unknown row',
      'exclusions.csv',
      2,
      'row key',
      '"D-999|Ca"',
      'a digestion of the table digestions, or digestion|analyte',
    ),
  ],
];

function issue(
  code: string,
  file: string,
  row: number,
  column: string,
  found: string,
  expected: string,
): RecordIssue {
  return { code, file, row, column, found, expected };
}

describe('a fault in a copy of the demonstration study', () => {
  it.each(cases)('%s makes this one issue and no other', async (_, table, edit, expected) => {
    expect((await checkStudy(copyWith(table, edit))).issues).toEqual([expected]);
  });

  it('a heading with another unit is named beside the one that is meant', async () => {
    const folder = copyWith('digestions.csv', (l) => {
      l[0] = l[0]!.replace(',flux g,', ',flux mg,');
    });
    const expected = 'a column "flux g": a number above 0';
    expect((await checkStudy(folder)).issues).toEqual([
      issue('unit', 'digestions.csv', 1, 'flux mg', 'the heading "flux mg"', 'the heading "flux g"'),
      issue('missing column', 'digestions.csv', 1, 'flux g', 'no such column', expected),
    ]);
  });

  it('several faults in several tables are all told at once, and nothing is read', async () => {
    const folder = copyWith('digestions.csv', (l) => setCell(l, 5, 'flux g', '2.O1'));
    const path = join(folder, 'exclusions.csv');
    writeFileSync(path, readFileSync(path, 'utf8').replace('D-037|Ca', 'D-999|Ca'));
    const { issues } = await checkStudy(folder);
    expect(issues.map(({ file, row }) => [file, row])).toEqual([
      ['digestions.csv', 5],
      ['exclusions.csv', 2],
    ]);
    await expect(readStudy(folder)).rejects.toThrow('2 problem(s) in the records');
  });
});
