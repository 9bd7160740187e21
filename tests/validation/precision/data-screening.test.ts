import { describe, expect, it } from 'vitest';
import { dataScreening, describeFlag } from '../../../src/validation/precision/data-screening.js';
import { precision } from '../../../src/validation/precision/precision.js';
import { dyestuff, rowsOfDays, simulatedDays } from '../support.js';

const quiet = [
  [10.1, 10.2],
  [10.0, 10.3],
  [10.2, 10.4],
  [9.9, 10.1],
  [10.1, 10.3],
  [10.0, 10.1],
  [10.2, 10.3],
  [9.9, 10.0],
];

describe('screening of digestions', () => {
  it('flags nothing in quiet data, nor in the dyestuff example', () => {
    expect(dataScreening(rowsOfDays(quiet))).toEqual([]);
    expect(dataScreening(rowsOfDays(dyestuff))).toEqual([]);
  });

  it('flags a day whose digestions differ, naming them', () => {
    const [flag] = dataScreening(rowsOfDays(quiet.map((day, i) => (i === 3 ? [9.0, 11.0] : day))));
    expect(flag).toMatchObject({
      about: 'spread within a day',
      level: 'outlier',
      days: ['2026-01-04'],
      digestions: ['D-4-1', 'D-4-2'],
    });
  });

  it('flags a day whose mean is off, and two such days that mask each other', () => {
    const shifted = (...which: number[]) =>
      rowsOfDays(quiet.map((day, i) => (which.includes(i) ? day.map((value) => value + 1.5) : day)));
    expect(dataScreening(shifted(2))[0]).toMatchObject({ about: 'mean of a day', days: ['2026-01-03'] });
    const two = dataScreening(shifted(2, 5)).find((flag) => flag.about === 'means of two days');
    expect([...two!.days].sort()).toEqual(['2026-01-03', '2026-01-06']);
  });

  it('stands in the notes of precision without changing its figures', () => {
    const rows = rowsOfDays(quiet.map((day, i) => (i === 3 ? [9.0, 11.0] : day)));
    const found = precision(rows, {
      analyte: 'Al',
      level: 'low',
      unit: 'mg/kg',
      repeatabilityCriterion: null,
      intermediateCriterion: null,
    });
    expect(found.screening).toHaveLength(1);
    expect(found.repeatability.notes).toContain(describeFlag(found.screening[0]!));
    expect(found.components.n).toBe(16);
  });

  it('raises a false flag in about 5 % of clean data a test', () => {
    const trials = 600;
    let spread = 0;
    for (let trial = 0; trial < trials; trial++) {
      const days = simulatedDays(101, trial, {
        days: 8,
        perDay: 2,
        mean: 100,
        dayStandardDeviation: 1,
        standardDeviation: 1,
      });
      if (
        dataScreening(rowsOfDays(days), { pairs: false }).some((flag) => flag.about === 'spread within a day')
      )
        spread++;
    }
    // Binomial: 5 % of 600 is 30, standard deviation 5.3.
    expect(spread).toBeGreaterThan(30 - 18);
    expect(spread).toBeLessThan(30 + 18);
  });
});
