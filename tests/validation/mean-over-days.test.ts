import { describe, expect, it } from 'vitest';
import { InputError } from '../../src/errors.js';
import { meanOverDays } from '../../src/validation/mean-over-days.js';
import { rowsOfDays, valuesWith } from './support.js';

describe('mean over days', () => {
  // JCGM 100:2008 (GUM), H.5, Table H.9: ten day means of a Zener voltage (remembered, recomputed), in µV above 10 V.
  it('gives the mean and its standard uncertainty of the Zener example', () => {
    const days = [172, 116, 13, 144, 106, 31, 60, 125, 163, 41];
    const found = meanOverDays(rowsOfDays(days.map((mean) => valuesWith(mean, 80, 5))));
    expect(found.mean).toRoundTo('97');
    expect(found.standardUncertainty!).toRoundTo('18');
    expect(found.degreesOfFreedom).toBe(9);
    expect(found.n).toBe(50);
  });

  it('counts each day once, however many results it has', () => {
    expect(meanOverDays(rowsOfDays([[1, 1, 1, 1], [3]])).mean).toBe(2);
  });

  it('has no standard uncertainty from one day', () => {
    expect(meanOverDays(rowsOfDays([[1, 2, 3]])).standardUncertainty).toBeNull();
  });

  it('refuses no results and values that are not finite', () => {
    expect(() => meanOverDays([])).toThrow(InputError);
    expect(() => meanOverDays(rowsOfDays([[Infinity]]))).toThrow(InputError);
  });
});
