import { describe, expect, it } from 'vitest';
import { StudyFiles } from '../broken-study.js';

const expected =
  'at least 3 standards of it, of two contents or more, in the tables calibration and readings';

describe('the standards of a run', () => {
  it('are too few where one of three is missing from the calibration', async () => {
    const files = new StudyFiles();
    files.files['calibration.csv'] = files.text('calibration.csv').replace(/^R1,Cal 2,Al,.*\n/m, '');
    expect(await files.problems()).toEqual([
      `readings.csv, row 2, column "run": found "R1" with 2 standard(s) of Al at 396.152 nm; expected ${expected}`,
    ]);
  });

  it('are too few where an analyte of a digestion has none', async () => {
    const files = new StudyFiles();
    files.files['calibration.csv'] = files.text('calibration.csv').replace(/^R1,Cal \d,Zr,.*\n/gm, '');
    expect(await files.problems()).toEqual([
      `readings.csv, row 9, column "run": found "R1" with 0 standard(s) of Zr at 343.823 nm; expected ${expected}`,
    ]);
  });

  it('are too few where all hold the same or one is excluded', async () => {
    const alike = new StudyFiles();
    for (const row of [3, 4]) {
      alike
        .set('calibration.csv', row, 'mass fraction mg/kg', '0')
        .set('calibration.csv', row, 'prepared from', '');
    }
    expect(await alike.problems()).toEqual([expect.stringContaining('with 3 standard(s) of Al')]);
    const excluded = new StudyFiles().repeat('exclusions.csv', 2, {
      table: 'calibration',
      'row key': 'R1|Cal 2|Al',
    });
    expect(await excluded.problems()).toEqual([expect.stringContaining('with 2 standard(s) of Al')]);
  });

  it('count each time they are read', async () => {
    const files = new StudyFiles();
    files.repeat('readings.csv', 3, { position: '8', time: '2025-01-09T09:14:00' });
    files.files['calibration.csv'] = files.text('calibration.csv').replace(/^R1,Cal 2,Al,.*\n/m, '');
    expect(await files.problems()).toEqual([]);
  });
});
