import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { type PrecisionOptions, precision } from '../../../src/validation/precision/precision.js';
import { blockAt, classicalSet, readReference } from '../../support/reference-sets.js';
import { believableCount, criterion, dyestuff, rowsOfDays, simulatedDays, valuesWith } from '../support.js';

const options: PrecisionOptions = {
  analyte: 'Al',
  level: 'low',
  unit: 'mg/kg',
  repeatabilityCriterion: null,
  intermediateCriterion: null,
};

describe('precision over days', () => {
  it('gives the components of the dyestuff example (estimates printed by lme4: 42.00 and 49.51)', () => {
    const found = precision(rowsOfDays(dyestuff), options);
    expect(Math.sqrt(found.components.dayVariance)).toRoundTo('42.00');
    expect(found.withinDay.value).toRoundTo('49.51');
    expect(found.overDays.value).toAgreeWithin(Math.hypot(42.000603, 49.5101), 1e-6);
  });

  it('gives the Zener voltage example of the GUM (JCGM 100:2008, H.5, Table H.9; remembered, recomputed)', () => {
    const dayMeans = [172, 116, 13, 144, 106, 31, 60, 125, 163, 41];
    const daySpreads = [60, 77, 111, 101, 67, 93, 80, 73, 88, 86];
    // Only means and standard deviations are printed; any five values with these have the same analysis. Offset 1000 µV.
    const rows = rowsOfDays(dayMeans.map((m, i) => valuesWith(1000 + m, daySpreads[i]!, 5)));
    const { components } = precision(rows, options);
    expect(components.mean - 1000).toRoundTo('97');
    expect(Math.sqrt(components.meanSquareBetween)).toRoundTo('128');
    expect(Math.sqrt(components.meanSquareWithin)).toRoundTo('85');
    expect(components.degreesOfFreedomBetween).toBe(9);
    expect(components.degreesOfFreedomWithin).toBe(40);
    expect(Math.sqrt(components.dayVariance)).toRoundTo('43');
  });

  it('takes the precision of a mean of n digestions of one day: s_day² + s_dig²/n', () => {
    const one = precision(rowsOfDays(dyestuff), options);
    const five = precision(rowsOfDays(dyestuff), { ...options, digestionsPerResult: 5 });
    expect(five.withinDay.value).toAgreeWithin(one.withinDay.value / Math.sqrt(5), 1e-13);
    expect(five.overDays.value ** 2).toAgreeWithin(
      one.components.dayVariance + one.components.digestionVariance / 5,
      1e-13,
    );
    // n digestions a day as in the design: the mean square between days alone, with exact χ² limits.
    expect(five.overDays.limits.upperOneSided).toAgreeWithin(
      five.overDays.value * Math.sqrt(5 / 1.145476226061769),
      1e-9,
    );
  });

  it('keeps relative figures when the unit of the results changes', () => {
    const base = precision(rowsOfDays(dyestuff), options);
    fc.assert(
      fc.property(fc.double({ min: 1e-3, max: 100, noNaN: true }), (factor) => {
        const scaled = precision(rowsOfDays(dyestuff.map((day) => day.map((v) => v * factor))), options);
        expect(scaled.intermediatePrecision.estimate!).toAgreeWithin(
          base.intermediatePrecision.estimate!,
          1e-9,
        );
        expect(scaled.repeatability.limits!.upperOneSided).toAgreeWithin(
          base.repeatability.limits!.upperOneSided,
          1e-9,
        );
      }),
    );
  });

  it('shows nothing with 4 days, whatever the values', () => {
    const found = precision(rowsOfDays(dyestuff.slice(0, 4)), {
      ...options,
      intermediateCriterion: criterion('at most', 50, '%'),
    });
    expect(found.intermediatePrecision.verdict).toBe('not shown');
    expect(found.intermediatePrecision.reason).toContain('at least 5 days');
  });

  it('says how many days would show a criterion that stays open, and that number does', () => {
    const limit = 4.8;
    const open = precision(rowsOfDays(dyestuff), {
      ...options,
      intermediateCriterion: criterion('at most', limit, '%'),
    }).intermediatePrecision;
    expect(open.verdict).toBe('not shown');
    const days = Number(/about (\d+) days/.exec(open.reason)?.[1]);
    expect(days).toBeGreaterThan(6);
    // The same mean squares, carried by that many days and by one fewer.
    const { components } = precision(rowsOfDays(dyestuff), options);
    const carriedBy = (n: number) =>
      rowsOfDays(
        valuesWith(components.mean, Math.sqrt(components.meanSquareBetween / 5), n).map((dayMean) =>
          valuesWith(dayMean, Math.sqrt(components.meanSquareWithin), 5),
        ),
      );
    const verdict = (n: number) =>
      precision(carriedBy(n), { ...options, intermediateCriterion: criterion('at most', limit, '%') })
        .intermediatePrecision.verdict;
    expect(verdict(days)).toBe('met');
    expect(verdict(days - 1)).toBe('not shown');
  });

  it('gives the restricted-maximum-likelihood components of lots of unequal size (IGF control, Davidian and Giltinan 1995)', () => {
    const set = classicalSet('igf-control');
    const rows = set
      .numbers('conc_ng_mL')
      .map((value, i) => ({ key: `${i}`, day: set.text('lot')[i]!, value }));
    const { components } = precision(rows, options);
    const expected = blockAt(set.results, 'reml_exact', 'components');
    expect(components.balanced).toBe(false);
    expect(components.dayVariance).toAgreeWithin(Number(expected.lot_f), 1e-9);
    expect(components.digestionVariance).toAgreeWithin(Number(expected.residual), 1e-9);
  });

  // ISO 5725-2:1994, B.1, sulfur in coal: 8 laboratories with 3 to 6 results (remembered, recomputed). Its repeatability is
  // pooled within laboratories, as the limits of s_r here are; its s_R is by moments, not by likelihood, and not compared.
  it('pools within days as ISO 5725-2 does within laboratories', () => {
    const { inputs, published } = readReference<{
      inputs: { lab_level_values: number[][][] };
      published: Record<string, { s_r: string }>;
    }>('statistics/iso5725-sulfur-in-coal');
    Object.values(published).forEach((level, i) => {
      const days = inputs.lab_level_values.map((laboratory) => laboratory[i]!);
      const { components } = precision(rowsOfDays(days), { ...options, unit: 'g/100 g' });
      expect(Math.sqrt(components.meanSquareWithin)).toRoundTo(level.s_r);
    });
  });

  // ISO 5725-2:1994, B.2, softening point of pitch, levels 1 and 2 (remembered, recomputed): 15 laboratories × 2, laboratories
  // with a missing cell left out.
  it('gives repeatability and reproducibility of the pitch example of ISO 5725-2', () => {
    const { inputs, published } = readReference<{
      inputs: { lab_level_values: number[][][] };
      published: Record<string, { m: string; s_r: string; s_R: string }>;
    }>('statistics/iso5725-softening-point-of-pitch');
    for (const level of [0, 1]) {
      const days = inputs.lab_level_values
        .map((laboratory) => laboratory[level]!)
        .filter((values) => values.length === 2);
      const printed = published[`level${level + 1}`]!;
      const found = precision(rowsOfDays(days), options);
      expect(found.components.mean).toRoundTo(printed.m);
      expect(found.withinDay.value).toRoundTo(printed.s_r);
      expect(found.overDays.value).toRoundTo(printed.s_R);
    }
  });

  it('is continuous: a lost digestion changes the limits a little, not the method’s figures by much', () => {
    const whole = precision(rowsOfDays(dyestuff), options);
    const lost = precision(rowsOfDays(dyestuff.map((day, i) => (i === 2 ? day.slice(0, 4) : day))), options);
    expect(lost.components.balanced).toBe(false);
    expect(lost.overDays.value).toAgreeWithin(whole.overDays.value, 0.1);
    expect(lost.overDays.limits.upperOneSided).toAgreeWithin(whole.overDays.limits.upperOneSided, 0.1);
  });

  it('declares a criterion at the truth met in at most 5 % of unbalanced studies', () => {
    const trials = 1200;
    const sizes = [3, 1, 2, 3, 2, 1, 3];
    for (const dayStandardDeviation of [0.5, 1.5]) {
      let met = 0;
      for (let trial = 0; trial < trials; trial++) {
        const days = simulatedDays(12, trial, {
          days: 7,
          perDay: 3,
          mean: 1000,
          dayStandardDeviation,
          standardDeviation: 1,
        }).map((day, i) => day.slice(0, sizes[i]));
        const truth = criterion('at most', Math.hypot(1, dayStandardDeviation), 'mg/kg');
        const found = precision(rowsOfDays(days), { ...options, intermediateCriterion: truth });
        if (found.intermediatePrecision.verdict === 'met') met++;
      }
      expect(met).toBeLessThanOrEqual(believableCount(0.05, trials));
    }
  });

  it('holds a negative variance between days at 0, says so, and keeps s_I at least s_r', () => {
    const found = precision(
      rowsOfDays([
        [9, 11],
        [9.1, 10.9],
        [8.9, 11.1],
        [9, 11],
        [9.05, 10.95],
        [9, 11.1],
      ]),
      options,
    );
    expect(found.components.dayVariance).toBe(0);
    expect(found.overDays.value).toBe(found.withinDay.value);
    expect(found.overDays.limits.upperOneSided).toBeGreaterThanOrEqual(found.overDays.value);
    expect(found.intermediatePrecision.notes.join(' ')).toContain('held at 0');
  });

  it('names the factors that changed', () => {
    const rows = rowsOfDays(dyestuff).map((row, i) => ({ ...row, operator: i % 2 ? 'A' : 'B' }));
    expect(precision(rows, options).repeatability.notes[0]).toContain('operator (2)');
  });

  it('declares a criterion at the truth met in at most 5 % of studies, for every ratio of variances', () => {
    const trials = 1500;
    for (const dayStandardDeviation of [0.5, 1, 1.5]) {
      let repeatability = 0;
      let intermediate = 0;
      for (let trial = 0; trial < trials; trial++) {
        const rows = rowsOfDays(
          simulatedDays(11, trial, {
            days: 6,
            perDay: 2,
            mean: 1000,
            dayStandardDeviation,
            standardDeviation: 1,
          }),
        );
        const found = precision(rows, {
          ...options,
          repeatabilityCriterion: criterion('at most', 1, 'mg/kg'),
          intermediateCriterion: criterion('at most', Math.hypot(1, dayStandardDeviation), 'mg/kg'),
        });
        if (found.repeatability.verdict === 'met') repeatability++;
        if (found.intermediatePrecision.verdict === 'met') intermediate++;
      }
      expect(repeatability).toBeLessThanOrEqual(believableCount(0.05, trials));
      expect(intermediate).toBeLessThanOrEqual(believableCount(0.05, trials));
    }
  });

  it('refuses one day, one digestion a day and values that are not finite', () => {
    expect(() => precision(rowsOfDays([[1, 2]]), options)).toThrow(InputError);
    expect(() => precision(rowsOfDays([[1], [2]]), options)).toThrow(InputError);
    expect(() =>
      precision(
        rowsOfDays([
          [1, 2],
          [3, Number.NaN],
        ]),
        options,
      ),
    ).toThrow(InputError);
  });

  it('refuses a criterion in a unit that does not fit', () => {
    expect(() =>
      precision(rowsOfDays(dyestuff), { ...options, repeatabilityCriterion: criterion('at most', 1, 'h') }),
    ).toThrow(InputError);
  });
});
