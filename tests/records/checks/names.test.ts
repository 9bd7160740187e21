import { cpSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { describeIssue } from '../../../src/errors.js';
import { checkStudy } from '../../../src/records/read-study.js';
import { studyTables, type TableName, tableNames } from '../../../src/records/study-tables.js';
import { temporaryFolder } from '../../support/temporary-folder.js';
import { StudyFiles } from '../broken-study.js';

/** Columns whose text names something that stands elsewhere, and where it must stand. */
const named: Readonly<Record<TableName, Readonly<Record<string, string>>>> = {
  digestions: {
    'portion balance': 'the id of a balance in equipment.json',
    'vessel balance': 'the id of a balance in equipment.json',
  },
  dilutions: {
    digestion: 'a digestion of the table digestions',
    balance: 'the id of a balance in equipment.json',
  },
  calibration: {
    run: 'a run of the table readings',
    solution: 'a solution that the table readings has in run R1',
    analyte: 'an analyte of the plan',
    'prepared from': 'a name in the table standards that has a row for Al',
  },
  standards: {
    analyte: 'an analyte of the plan',
    'prepared from': 'a name in the table standards that has a row for Al',
  },
  readings: {
    run: 'a run of the table calibration',
    solution: 'a digestion, a dilution, a standard solution of run R1',
    analyte: 'an analyte of the plan',
  },
  references: { material: 'a sample of the table digestions', analyte: 'an analyte of the plan' },
  spikes: {
    digestion: 'a digestion of the table digestions',
    'unspiked partner': 'a digestion of the table digestions',
    analyte: 'an analyte of the plan',
  },
  additions: {
    base: 'a digestion or dilution of the tables digestions and dilutions',
    analyte: 'an analyte of the plan',
  },
  comparison: { sample: 'a sample of the table digestions', analyte: 'an analyte of the plan' },
  moisture: { sample: 'a sample of the table digestions' },
  interference: { analyte: 'an analyte of the plan', interferent: 'an analyte of the plan' },
  exclusions: { table: 'one of: digestions', 'row key': 'a digestion of the table digestions' },
  factors: {},
  homogeneity: { sample: 'a sample of the table digestions', analyte: 'an analyte of the plan' },
  history: { analyte: 'an analyte of the plan', 'equipment in use': 'ids of equipment.json: B-1' },
  rounds: { analyte: 'an analyte of the plan' },
};

/** Columns that give a name of their own, or a text that is looked up nowhere. */
const own: Readonly<Record<TableName, readonly string[]>> = {
  // A sample that stands in no other table is one more sample; blanks and reference materials are tested below.
  digestions: ['digestion', 'sample', 'operator', 'place', 'crucible', 'remark'],
  dilutions: ['dilution', 'diluent'],
  calibration: [],
  standards: ['name', 'certificate'],
  readings: [],
  references: ['certificate'],
  spikes: [],
  // An addition that was not read yet is no fault: the finding on it says so.
  additions: ['solution'],
  comparison: ['method'],
  moisture: [],
  interference: [],
  exclusions: ['who', 'technical cause'],
  factors: [],
  homogeneity: ['container', 'unit'],
  // Control materials and materials of rounds need not be digested in the study, nor their runs be read in it.
  history: ['run', 'material', 'unit'],
  rounds: ['round', 'material', 'unit'],
};

const places = tableNames.flatMap((table) =>
  Object.entries(named[table]).map(([heading, where]) => [table, heading, where] as const),
);

describe('names that nothing bears', () => {
  it.each(tableNames)('are looked for in every text column of %s', (table) => {
    const texts = Object.values(studyTables[table].columns).flatMap((column) =>
      column.kind === 'text' || column.kind === 'list' ? [column.heading] : [],
    );
    expect([...Object.keys(named[table]), ...own[table]].sort()).toEqual(texts.sort());
  });

  it.each(places)('are a problem in %s, column %s', async (table, heading, where) => {
    const problems = await new StudyFiles().set(`${table}.csv`, 2, heading, 'Fe').problems();
    expect(problems).toContainEqual(
      expect.stringContaining(`${table}.csv, row 2, column "${heading}": found "Fe"; expected ${where}`),
    );
  });

  it('are a problem as blank or reference material', async () => {
    const files = new StudyFiles();
    files.set('digestions.csv', 3, 'sample', 'blank').set('digestions.csv', 4, 'sample', 'RM-9');
    const text = (await files.problems()).join('\n');
    expect(text).toContain('row 3, column "sample": found "blank"; expected "procedure blank"');
    expect(text).toContain(
      'row 4, column "sample": found "RM-9"; expected a material of the table references',
    );
  });

  it.each([
    ['moisture.csv', 'ZP-1,', 'ZP-77,', 'column "sample": found "ZP-77"; expected a sample of'],
    ['references.csv', 'QRM-1,Zr', 'QRM-11,Zr', 'column "material": found "QRM-11"; expected a sample of'],
  ])('are a problem in the demonstration study (%s)', async (table, from, to, problem) => {
    const folder = join(temporaryFolder(), 'study');
    cpSync(resolve(__dirname, '../../../data/zircon-pigment'), folder, { recursive: true });
    const text = readFileSync(join(folder, table), 'utf8');
    writeFileSync(join(folder, table), text.replace(from, to));
    const { issues } = await checkStudy(folder);
    expect(issues.map(describeIssue).join('\n')).toContain(problem);
  });
});

describe('a standard solution', () => {
  it('is not said to be unread where the name in a reading could not be read', async () => {
    const files = new StudyFiles().set('readings.csv', 3, 'solution', 'Cal|1');
    expect(await files.problems()).toEqual([
      expect.stringContaining('readings.csv, row 3, column "solution": found "Cal|1"'),
    ]);
  });
});
