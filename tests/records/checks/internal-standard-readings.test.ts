import { describe, expect, it } from 'vitest';
import { StudyFiles } from '../broken-study.js';

const heading = 'internal standard intensity counts/s';
const place = (row: number) => `readings.csv, row ${row}, column "${heading}": found an empty cell; expected`;

describe('the internal standard of a reading', () => {
  it('is missed in one of two readings of a solution', async () => {
    // Row 6 is D-001, repeat 1; repeat 2 in row 7 is excluded by the small study.
    const files = new StudyFiles().set('readings.csv', 6, heading, '');
    expect(await files.problems()).toEqual([
      `${place(6)} an intensity of Sc with each reading of Al, or an exclusion of the reading with its technical cause`,
    ]);
  });

  it('is missed in all readings of a solution, of a standard and of a digestion read without it for another element', async () => {
    const files = new StudyFiles().set('readings.csv', 2, heading, '').set('readings.csv', 9, heading, '');
    expect(await files.problems()).toEqual([
      expect.stringContaining(`${place(2)} an intensity of Sc with each reading of Al`),
      expect.stringContaining(`${place(9)} an intensity of Sc with each reading of Zr`),
    ]);
  });

  it('is missed in no reading that is excluded', async () => {
    const files = new StudyFiles().set('readings.csv', 7, heading, '');
    expect(await files.problems()).toEqual([]);
  });

  it('is read with all readings of its own element in a run, or with none', async () => {
    const other = { position: '8', time: '2025-01-09T09:14:00', [heading]: '90000' };
    const files = new StudyFiles().repeat('readings.csv', 8, other);
    expect(await files.problems()).toEqual([
      `${place(8)} an intensity, as other readings of Sc in run R1 have one: all of them or none`,
    ]);
    expect(await files.set('readings.csv', 8, heading, '91000').problems()).toEqual([]);
  });
});
