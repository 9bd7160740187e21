import { describe, expect, it } from 'vitest';
import { checkStudy } from '../../src/records/read-study.js';
import { StudyFiles } from './broken-study.js';
import { smallStudy } from './small-study.js';

const retained = (analyte: string) => ({
  name: 'retained in fusion',
  analyte,
  estimate: 1,
  standardUncertainty: 0.0005,
  unit: '1',
  distribution: 'normal' as const,
  source: 'crucibles weighed',
});

const stating = (files: StudyFiles, analyte: string) =>
  files.json('study.json', (plan) =>
    Object.assign(plan, { statedInputs: [...smallStudy.plan.statedInputs, retained(analyte)] }),
  );

/** The small study with its check solution read and certified for all analytes, and the loss in fusion stated. */
function answered(): StudyFiles {
  const files = stating(new StudyFiles(), '*').repeat('readings.csv', 4, {
    analyte: 'Zr',
    'line nm': '343.823',
  });
  for (const analyte of ['Al', 'Zr']) files.repeat('standards.csv', 2, { name: 'check', analyte });
  return files;
}

const linesOf = async (files: StudyFiles) => {
  const { issues, leftOpen } = await checkStudy(files.write());
  expect(issues).toEqual([]);
  return leftOpen.map(({ file, row, found, consequence }) => `${file} ${row}: ${found}; ${consequence}`);
};

const inNoResult = 'in no result of it, and named in the report among the rows left out';

describe('what sound records leave open', () => {
  it('is a digestion of which one analyte was never read, unless an exclusion names it', async () => {
    // D-002 is excluded for Al alone, D-003 and D-004 as a whole; D-001 is read for both.
    expect((await linesOf(answered())).filter((line) => line.includes('no reading of'))).toEqual([
      `digestions.csv 3: D-002: no reading of Zr; ${inNoResult}`,
    ]);
    const excluded = answered().repeat('exclusions.csv', 2, { 'row key': 'D-002|Zr' });
    expect(await linesOf(excluded)).toEqual([]);
  });

  it('is a standard that was read for an analyte whose content in it is not stated', async () => {
    // Cal 3 is a standard for Al alone at first, then for both analytes that are read in it.
    const place = { solution: 'Cal 3', position: '8', time: '2025-01-09T09:14:00' };
    const files = answered().repeat('exclusions.csv', 2, { 'row key': 'D-002|Zr' });
    for (const row of [2, 9]) files.repeat('readings.csv', row, place);
    files.repeat('calibration.csv', 3, { solution: 'Cal 3' });
    expect(await linesOf(files)).toEqual([
      `readings.csv 16: Cal 3: no content of Zr in the table calibration for run R1; ${inNoResult}`,
    ]);
    expect(await linesOf(files.repeat('calibration.csv', 6, { solution: 'Cal 3' }))).toEqual([]);
  });

  it('is the drift of an analyte that was not read in the check solution', async () => {
    const consequence = 'not studied: drift, which counts as none with no uncertainty';
    expect(await linesOf(new StudyFiles())).toContain(
      `readings.csv null: no reading of the check solution "check" for Zr in run R1; ${consequence}`,
    );
    const none = new StudyFiles().set('readings.csv', 4, 'solution', 'Cal 1');
    expect(await linesOf(none)).toContain(
      `readings.csv null: no reading of the check solution "check"; ${consequence}`,
    );
    expect((await linesOf(answered())).filter((line) => line.includes('drift'))).toEqual([]);
  });

  it('is the loss in fusion, unless the melts were weighed or the part retained is stated', async () => {
    const line = (count: string, analytes: string) =>
      `digestions.csv null: no mass of the crucible with melt for ${count} digestions with a portion, and no stated input "retained in fusion" for ${analytes}; not studied: loss in fusion, which counts as none with no uncertainty`;
    const losses = async (files: StudyFiles) =>
      (await linesOf(files)).filter((each) => each.includes('melt'));
    const portions = smallStudy.digestions.flatMap((d, i) => (d.kind === 'blank' ? [] : [i + 2]));
    const n = portions.length;
    expect(await losses(new StudyFiles())).toEqual([line(`${n} of ${n}`, 'Al, Zr')]);
    expect(await losses(stating(new StudyFiles(), 'Al'))).toEqual([line(`${n} of ${n}`, 'Zr')]);
    expect(await losses(stating(new StudyFiles(), '*'))).toEqual([]);
    const weighed = new StudyFiles();
    for (const [i, row] of portions.entries()) {
      if (i > 0) expect(await losses(weighed)).toEqual([line(`${n - i} of ${n}`, 'Al, Zr')]);
      weighed.set('digestions.csv', row, 'crucible with melt g', '32.3');
    }
    expect(await losses(weighed)).toEqual([]);
  });

  it('is the check solution whose content no row states', async () => {
    expect(await linesOf(new StudyFiles())).toContain(
      'standards.csv null: no row of the check solution "check" for Al, Zr; not studied: whether it is found at its content',
    );
    expect((await linesOf(answered())).filter((line) => line.startsWith('standards.csv'))).toEqual([]);
  });

  it('is nothing while a table behind it is broken', async () => {
    const files = new StudyFiles().set('readings.csv', 4, 'intensity counts/s', 'x');
    expect((await checkStudy(files.write())).leftOpen).toEqual([]);
  });
});

describe('a digestion that no reading is of', () => {
  const problem =
    'digestions.csv, row 4, column "digestion": found "D-003"; expected a digestion that the table readings has, itself or a dilution of it, or an exclusion of it with the technical cause';

  it('is a problem unless an exclusion says why', async () => {
    const files = new StudyFiles().set('exclusions.csv', 4, 'row key', 'D-001|Al');
    expect(await files.problems()).toEqual([problem]);
    expect(await files.repeat('exclusions.csv', 2, { 'row key': 'D-003|Al' }).problems()).toEqual([]);
  });

  it('is none in a routine run where it is of a sample, whose result then has no value', async () => {
    const routine = { validation: 'v', specifications: [], decisionRule: 'simple acceptance', risk: 0.05 };
    const files = new StudyFiles()
      .set('exclusions.csv', 4, 'row key', 'D-001|Al')
      .json('study.json', (plan) => Object.assign(plan, { routine }));
    expect(await files.problems()).toEqual([problem]);
    expect(
      await files
        .set('digestions.csv', 4, 'kind', 'sample')
        .set('digestions.csv', 4, 'sample', 'RM-1')
        .problems(),
    ).toEqual([]);
  });
});
