import { describe, expect, it } from 'vitest';
import { oneWayAnalysis } from '../../../src/statistics/analysis-of-variance/one-way.js';
import { oneWayColumns } from '../../../src/statistics/analysis-of-variance/one-way-columns.js';
import { exactOneWay } from '../../support/exact-one-way.js';
import { readStrd, strdGroups } from '../../support/strd.js';

describe('one-way analyses over long columns', () => {
  it('gives for each analyte what the analysis of its groups gives', () => {
    const values = [10.1, 5.1, 10.3, 5.4, 9.8, 4.9, 10.0, 5.0, 10.4, 10.2, 5.9];
    const analytes = [0, 1, 0, 1, 0, 1, 0, 1, 0, 0, 1];
    const groups = [0, 0, 0, 0, 1, 1, 1, 1, 2, 2, 1];
    const found = oneWayColumns(Float64Array.from(values), analytes, groups, 2, 3);
    for (const analyte of [0, 1]) {
      const split = [0, 1, 2].map((g) => values.filter((_, i) => analytes[i] === analyte && groups[i] === g));
      const expected = oneWayAnalysis(split.filter((group) => group.length > 0));
      expect(found[analyte]!.groupSizes).toEqual(expected.groupSizes);
      expect(found[analyte]!.f).toAgreeWithin(expected.f, 1e-14);
      expect(found[analyte]!.betweenVarianceUnconstrained).toAgreeWithin(
        expected.betweenVarianceUnconstrained,
        1e-13,
      );
    }
  });

  // NIST StRD SmLs09: 18009 values of 13 constant leading digits.
  it('agrees with exact arithmetic on data of large offset', () => {
    const groups = strdGroups(readStrd('smls09'));
    const exact = exactOneWay(groups);
    const codes = groups.flatMap((group, g) => group.map(() => g));
    const [found] = oneWayColumns(
      Float64Array.from(groups.flat()),
      codes.map(() => 0),
      codes,
      1,
      groups.length,
    );
    expect(found!.sumOfSquaresBetween).toAgreeWithin(exact.between, 1e-15);
    expect(found!.sumOfSquaresWithin).toAgreeWithin(exact.within, 1e-15);
    expect(found!.f).toAgreeWithin(exact.f, 1e-15);
  });

  it('refuses numbers out of range, values that are not finite and analytes with too little', () => {
    const column = Float64Array.of(1, 2, 3);
    expect(() => oneWayColumns(column, [0, 0, 1], [0, 1, 1], 1, 2)).toThrow('row 3: found analyte 1');
    expect(() => oneWayColumns(Float64Array.of(1, Number.NaN, 3), [0, 0, 0], [0, 1, 1], 1, 2)).toThrow(
      'position 2',
    );
    expect(() => oneWayColumns(column, [0, 0, 0], [0, 0, 0], 1, 2)).toThrow(
      'analyte 0: found 3 value(s) in 1 group(s)',
    );
    expect(() => oneWayColumns(column, [0, 0], [0, 0, 1], 1, 2)).toThrow('expected equally many');
  });
});
