import { beforeAll, describe, expect, it } from 'vitest';
import { resultValue } from '../../src/chain/result-model.js';
import type { StudyRecords } from '../../src/records/study-records.js';
import type { ReadingRecord } from '../../src/records/tables/readings.js';
import { zirconPigmentStudy } from '../../src/scenario/zircon-pigment-study.js';
import { type EvaluatedStudy, evaluateStudy } from '../../src/studies/evaluate-study.js';
import { observe } from '../../src/studies/observations.js';
import { plainResults } from '../scenario/plain-inversion.js';

let records: StudyRecords;
let study: EvaluatedStudy;

beforeAll(() => {
  records = zirconPigmentStudy({ seed: 20260302 }).records;
  study = evaluateStudy(records);
});

const cause = { who: 'A. Example', when: '2026-03-20', technicalCause: 'spilled' };
const excluding = (table: string, ...rowKeys: string[]): StudyRecords => ({
  ...records,
  exclusions: [...records.exclusions, ...rowKeys.map((rowKey) => ({ table, rowKey, ...cause }))],
});
const withReadings = (change: (r: ReadingRecord) => ReadingRecord): StudyRecords => ({
  ...records,
  readings: records.readings.map(change),
});
const valueIn = (evaluated: EvaluatedStudy, digestion: string, analyte: string) =>
  evaluated.results.find((r) => r.digestion === digestion && r.analyte === analyte)?.value;
const values = (evaluated: EvaluatedStudy) =>
  evaluated.results.map((r) => [r.digestion, r.analyte, r.run, r.value, r.amountMg]);
/** A sample digestion of the fourth day, which is read in one run only. */
const sampleOfDay4 = () => records.digestions.find((d) => d.sample === 'ZP-2' && d.day === '2026-03-05')!;

describe('results of a study', () => {
  it('agree with a plain way back from the same records', () => {
    // The plain way weighs standards by their signal alone.
    const plainly = {
      ...records,
      calibration: records.calibration.map((row) => ({ ...row, standardUncertainty: 0 })),
    };
    const evaluated = evaluateStudy(plainly);
    let compared = 0;
    for (const plain of plainResults(plainly)) {
      if (plain.lineNm !== evaluated.index.scopes.get(plain.analyte)!.lineNm) continue;
      expect(valueIn(evaluated, plain.digestion, plain.analyte)!).toAgreeWithin(plain.massFraction, 1e-10);
      compared += 1;
    }
    expect(compared).toBeGreaterThan(700);
  });

  it('take a solution that was read again from the run it was read in first', () => {
    for (const digestion of records.plan.stability!.digestions) {
      const runs = study.results.filter((r) => r.digestion === digestion).map((r) => r.run);
      expect(new Set(runs)).toEqual(new Set(['R-01']));
    }
  });

  it('leave out a drift that check solutions follow, and hold one that they do not', () => {
    const { run, position: first } = study.index.checks.get('R-04|Ti|334.94')![0]!;
    const steady = records.readings.filter((r) => r.run === run && r.position === first);
    // All check solutions of the run as the first one was.
    const flat = withReadings((r) => {
      const like = steady.find((s) => s.lineNm === r.lineNm && s.repeat === r.repeat);
      return r.run === run && r.solution === 'CHK' && like !== undefined
        ? {
            ...r,
            intensity: like.intensity,
            internalStandardIntensity: like.internalStandardIntensity,
          }
        : r;
    });
    const drifting = (follows: boolean): StudyRecords => ({
      ...flat,
      readings: flat.readings.map((r) =>
        r.run === run && r.position > first && (follows || r.solution !== 'CHK')
          ? { ...r, intensity: r.intensity * (1 + 0.001 * (r.position - first)) }
          : r,
      ),
    });
    const { digestion } = sampleOfDay4();
    const without = valueIn(evaluateStudy(flat), digestion, 'Ti')!;
    expect(valueIn(evaluateStudy(drifting(true)), digestion, 'Ti')!).toAgreeWithin(without, 1e-12);
    expect(Math.abs(valueIn(evaluateStudy(drifting(false)), digestion, 'Ti')! / without - 1)).toBeGreaterThan(
      0.005,
    );
  });

  it('are those of the plain intensities where no internal standard was pumped', () => {
    const bare = withReadings((r) => ({ ...r, internalStandardIntensity: null }));
    const divided = withReadings((r) => ({ ...r, internalStandardIntensity: 1 }));
    expect(values(evaluateStudy(bare))).toEqual(values(evaluateStudy(divided)));
  });

  it('come from the dilution that was read first, whatever the order of the table', () => {
    const { digestion } = sampleOfDay4();
    const own = records.dilutions.find((d) => d.digestion === digestion)!;
    // A second dilution, read after the first and 2 % higher.
    const second = { ...own, dilution: 'DIL-second' };
    const last = Math.max(...records.readings.map((r) => r.position));
    const later = records.readings
      .filter((r) => r.solution === own.dilution)
      .map((r) => ({
        ...r,
        solution: second.dilution,
        position: r.position + last,
        time: r.time.replace(/T\d\d:\d\d/, 'T23:59'),
        intensity: r.intensity * 1.02,
      }));
    const found = [
      [...records.dilutions, second],
      [second, ...records.dilutions],
    ].map(
      (dilutions) =>
        evaluateStudy({ ...records, dilutions, readings: [...records.readings, ...later] }).results.find(
          (r) => r.digestion === digestion && r.analyte === 'Zr',
        )!,
    );
    expect(found.map((r) => r.observation.signals[0]!.solution)).toEqual([own.dilution, own.dilution]);
    expect(found[1]!.value).toBe(found[0]!.value);
  });

  it('on a second line follow the readings of that line', () => {
    const { lineNm, secondLineNm } = study.index.scopes.get('Zr')!;
    const place = (r: ReadingRecord) => `${r.run}|${r.position}|${r.repeat}`;
    const first = new Map(records.readings.filter((r) => r.lineNm === lineNm).map((r) => [place(r), r]));
    const copied = evaluateStudy(
      withReadings((r) =>
        r.lineNm === secondLineNm ? { ...r, intensity: first.get(place(r))!.intensity } : r,
      ),
    );
    const { digestion } = sampleOfDay4();
    const own = copied.results.find((r) => r.digestion === digestion && r.analyte === 'Zr')!;
    const { blank } = own.observation;
    const other = observe(copied.index, digestion, 'Zr', blank, { lineNm: secondLineNm! })!;
    expect(resultValue(other)).toBe(own.value);
    expect(observe(study.index, digestion, 'Ti', null, { lineNm: 300.001 })).toBeNull();
  });
});

describe('excluded rows', () => {
  it('a whole digestion has no result of any analyte', () => {
    const { digestion } = sampleOfDay4();
    const without = evaluateStudy(excluding('digestions', digestion));
    expect(without.results.some((r) => r.digestion === digestion)).toBe(false);
    expect(values(without)).toEqual(values(study).filter(([name]) => name !== digestion));
  });

  it('a single reading is as if it had not been taken', () => {
    const { digestion } = sampleOfDay4();
    const reading = records.readings.find((r) => r.solution === digestion && r.analyte === 'Fe')!;
    const key = [reading.run, reading.position, 'Fe', reading.lineNm, reading.repeat].join('|');
    const without = evaluateStudy(excluding('readings', key));
    const deleted = evaluateStudy({ ...records, readings: records.readings.filter((r) => r !== reading) });
    expect(values(without)).toEqual(values(deleted));
    expect(valueIn(without, digestion, 'Fe')).not.toBe(valueIn(study, digestion, 'Fe'));
    const others = (evaluated: EvaluatedStudy) =>
      values(evaluated).filter(([name, analyte]) => name !== digestion || analyte !== 'Fe');
    expect(others(without)).toEqual(others(study));
  });

  it.each([
    ['calibration', 'R-04|CAL-A3|Ti'],
    ['standards', 'IC-Zr|Zr'],
    ['references', 'QRM-1|Al'],
    ['interference', 'Hf|264.141|Zr'],
  ] as const)('of the table %s (%s) take no part', (table, rowKey) => {
    const part = rowKey.split('|');
    const rest = (records[table] as readonly object[]).filter(
      (row) => !part.every((value) => Object.values(row).map(String).includes(value)),
    );
    expect(rest.length).toBe(records[table].length - 1);
    const without = evaluateStudy(excluding(table, rowKey));
    expect(without.index.records[table]).toEqual(rest);
    expect(values(without)).toEqual(values(evaluateStudy({ ...records, [table]: rest })));
  });
});

describe('what a result rests on', () => {
  it('is the stock of the solutions that hold something: a zero solution need not name one', () => {
    const unnamed = records.calibration.map((row) =>
      row.massFractionMgPerKg === 0 ? { ...row, preparedFrom: '' } : row,
    );
    expect(unnamed.filter((row) => row.preparedFrom === '').length).toBeGreaterThan(50);
    const stocks = (evaluated: EvaluatedStudy) =>
      evaluated.results.map((r) => r.observation.signals[0]!.stock);
    expect(stocks(evaluateStudy({ ...records, calibration: unnamed }))).toEqual(stocks(study));
  });

  it('counts the certificate of a stock and the preparation of an intermediate from it', () => {
    const stock = records.standards.find((s) => s.name === 'S-Ti')!;
    // 0.3 % and 0.4 % relative, k = 2: together 0.25 %.
    const chain = [
      { ...stock, name: 'S-0', value: 10_000, expandedUncertainty: 30 },
      {
        ...stock,
        value: 1000,
        expandedUncertainty: 4,
        preparedFrom: 'S-0',
        aliquotG: 10,
        finalG: 100,
      },
    ];
    const standards = [...records.standards.filter((s) => s !== stock), ...chain];
    const signal = evaluateStudy({ ...records, standards }).results.find((r) => r.analyte === 'Ti')!
      .observation.signals[0]!;
    expect(signal.stock.name).toBe('S-0');
    expect(signal.stock.relativeStandardUncertainty).toAgreeWithin(0.0025, 1e-14);
  });

  it('refuses a stock that is not among the standards', () => {
    const standards = records.standards.filter((s) => s.name !== 'S-Ti');
    expect(() => evaluateStudy({ ...records, standards })).toThrow(
      'calibration of Ti, run R-01: expected its stock "S-Ti" among the standards',
    );
  });

  it('is a measured interferent: without one there is no result, whatever the analyte reads', () => {
    const { digestion } = sampleOfDay4();
    const dilution = records.dilutions.find((d) => d.digestion === digestion)!.dilution;
    const unread = records.readings.filter((r) => r.solution !== dilution);
    const evaluated = evaluateStudy({ ...records, readings: unread });
    expect(valueIn(evaluated, digestion, 'Zr')).toBeUndefined();
    expect(valueIn(evaluated, digestion, 'Hf')).toBeUndefined();
    expect(valueIn(evaluated, digestion, 'Ca')).toBe(valueIn(study, digestion, 'Ca'));
    const { observation } = study.results.find((r) => r.digestion === digestion && r.analyte === 'Hf')!;
    expect(observation.signals.map((s) => s.analyte)).toEqual(['Hf', 'Zr']);
  });

  it('takes an interferent from another run where the solution was not read for it in the same one', () => {
    const digestion = records.plan.stability!.digestions[0]!;
    const dilution = records.dilutions.find((d) => d.digestion === digestion)!.dilution;
    const partly = records.readings.filter((r) => r.solution !== dilution || r.run !== 'R-02');
    const { index } = evaluateStudy({ ...records, readings: partly });
    const reread = observe(index, digestion, 'Hf', null, { run: 'R-02' })!;
    expect(reread.signals.map((s) => [s.analyte, s.calibration.run])).toEqual([
      ['Hf', 'R-02'],
      ['Zr', 'R-01'],
    ]);
  });

  it('is the spectrometer in service on the days of the readings, wherever it stands in the register', () => {
    const reversed = evaluateStudy({ ...records, equipment: [...records.equipment].reverse() });
    expect([study.index.spectrometer, reversed.index.spectrometer]).toEqual(['ICP-1', 'ICP-1']);
  });
});
