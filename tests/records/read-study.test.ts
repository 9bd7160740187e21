import { mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { describeIssue, InputError, RecordsError } from '../../src/errors.js';
import { checkStudy, readStudy } from '../../src/records/read-study.js';
import { temporaryFolder } from '../support/temporary-folder.js';
import { StudyFiles } from './broken-study.js';
import { smallStudy } from './small-study.js';

describe('readStudy', () => {
  it('finds nothing wrong with a sound study', async () => {
    expect(await new StudyFiles().problems()).toEqual([]);
  });

  it('throws one error that carries every problem of every file', async () => {
    const files = new StudyFiles()
      .set('digestions.csv', 2, 'flux g', '2,O1')
      .set('digestions.csv', 3, 'day', '2025-02-30')
      .set('readings.csv', 4, 'intensity counts/s', '-3')
      .json('equipment.json', (list) => {
        Object.assign((list as unknown as object[])[0]!, { dueOn: 'soon' });
      });
    // The comma of the broken mass shifts no cell: it stands in quotation marks.
    files.files['digestions.csv'] = files.text('digestions.csv').replace('2,O1', '"2,O1"');
    const error = await readStudy(files.write()).catch((caught: unknown) => caught);
    expect(error).toBeInstanceOf(RecordsError);
    expect((error as RecordsError).exitCode).toBe(3);
    expect((error as RecordsError).message.split('\n')).toEqual([
      '4 problem(s) in the records',
      'equipment.json, key "[0].dueOn": found "soon"; expected a calendar date such as "2025-03-14"',
      'digestions.csv, row 2, column "flux g": found "2,O1"; expected a number above 0',
      'digestions.csv, row 3, column "day": found "2025-02-30"; expected a calendar date such as 2025-03-14',
      'readings.csv, row 4, column "intensity counts/s": found "-3"; expected a number of at least 0',
    ]);
  });

  it('does not report what refers to a broken row as a second problem', async () => {
    const files = new StudyFiles().set('digestions.csv', 2, 'flux g', 'x');
    expect(await files.problems()).toEqual([
      'digestions.csv, row 2, column "flux g": found "x"; expected a number above 0',
    ]);
  });

  it('concludes nothing from rows that are missing where a table could not be read', async () => {
    const files = new StudyFiles().dropColumn('digestions.csv', 'crucible');
    expect(await files.problems()).toEqual([
      'digestions.csv, row 1, column "crucible": found no such column; expected a column "crucible": a text',
    ]);
  });

  it('says which tables are missing and what stays undecided without them', async () => {
    const files = new StudyFiles();
    delete files.files['references.csv'];
    files.files['factors.csv'] = 'experiment,flux,response\n';
    const { issues, missingTables, notStudied } = await checkStudy(files.write());
    expect(issues).toEqual([]);
    expect(missingTables).toEqual(['references', 'factors']);
    expect(notStudied[0]).toEqual({ table: 'references', consequence: 'trueness by reference materials' });
    expect((await readStudy(files.write())).missingTables).toEqual(['references', 'factors']);
  });

  it('asks for the factors of a ruggedness experiment once it has a row', async () => {
    const files = new StudyFiles();
    files.files['factors.csv'] = 'experiment,response\n1,99.5\n2,99.1\n';
    expect(await files.problems()).toEqual([
      'factors.csv, row 1, column "factor": found only the columns "experiment", "response"; expected one column for each factor, headed by its name',
    ]);
    files.files['factors.csv'] = 'experiment,response\n';
    expect(await files.problems()).toEqual([]);
  });

  it('asks for the three tables without which there is no result', async () => {
    const files = new StudyFiles();
    delete files.files['calibration.csv'];
    files.files['readings.csv'] = files.text('readings.csv').split('\n')[0]!;
    expect(await files.problems()).toEqual([
      'calibration.csv: found no such table; expected at least one row: one standard solution × analyte of one run',
      'readings.csv: found no row below the heading; expected at least one row: one reading: one integration of the spectrometer',
      expect.stringContaining('exclusions.csv, row 3'),
    ]);
  });

  it('refuses a table of unknown name, which would else be passed over in silence', async () => {
    const files = new StudyFiles();
    files.files['reading.csv'] = 'run\n';
    files.files['truth.json'] = 'left alone';
    files.files['README.md'] = 'left alone';
    expect(await files.problems()).toEqual([
      expect.stringContaining('reading.csv: found a table of this name'),
    ]);
  });

  it('asks for plan and equipment register', async () => {
    const files = new StudyFiles();
    delete files.files['study.json'];
    files.files['equipment.json'] = '[}';
    expect(await files.problems()).toEqual([
      'study.json: found no such file; expected a file study.json in the study folder',
      expect.stringMatching(/^equipment\.json: found .+; expected JSON in UTF-8$/),
    ]);
  });

  it('refuses a link and a folder in a file’s place, and a study that is none', async () => {
    const files = new StudyFiles();
    const plan = files.text('study.json');
    delete files.files['study.json'];
    const folder = files.write();
    writeFileSync(join(folder, '..', 'elsewhere.json'), plan);
    symlinkSync(join(folder, '..', 'elsewhere.json'), join(folder, 'study.json'));
    mkdirSync(join(folder, 'tables.xlsx'));
    const { issues } = await checkStudy(folder);
    expect(issues.map(({ file, found }) => [file, found])).toEqual([
      ['study.json', 'a link or folder'],
      ['tables.xlsx', 'a link or folder'],
      ['study.json', 'no such file'],
    ]);
    await expect(checkStudy(join(folder, 'nowhere'))).rejects.toThrow(InputError);
    await expect(checkStudy(join(folder, 'digestions.csv'))).rejects.toThrow('found a file at');
  });

  it.each(['tables.xlsm', 'tables.xlsb'])('does not pass over %s, which is not read', async (name) => {
    const folder = new StudyFiles().write();
    writeFileSync(join(folder, name), '');
    const lines = (await checkStudy(folder)).issues.map(describeIssue);
    expect(lines).toEqual([
      expect.stringMatching(/^tables\.\w+: found a table of this name; expected .* or tables\.xlsx$/),
    ]);
  });

  it('follows a link to the study folder itself', async () => {
    const link = join(temporaryFolder(), 'link');
    symlinkSync(new StudyFiles().write(), link);
    expect(await readStudy(link)).toEqual(smallStudy);
  });
});
