import { describe, expect, it } from 'vitest';
import type { StudyRecords } from '../../../src/records/study-records.js';
import type { ReadingRecord } from '../../../src/records/tables/readings.js';
import { zirconRoutineRun } from '../../../src/scenario/routine/zircon-routine-run.js';
import { evaluateStudy } from '../../../src/studies/evaluate-study.js';
import { flagsOfDigestion } from '../../../src/studies/routine-results/flags-of-digestion.js';
import type { ResultFlag } from '../../../src/studies/routine-results/routine-result.js';

const { records: recorded } = zirconRoutineRun(77);
const records: StudyRecords = {
  ...recorded,
  digestions: recorded.digestions.filter((d) => d.vesselEmptyG !== null),
};
const digestion = records.digestions.find((d) => d.sample === 'RS-02')!.digestion;
const own = new Set([
  digestion,
  ...records.dilutions.filter((d) => d.digestion === digestion).map((d) => d.dilution),
]);

const withReadings = (readings: readonly ReadingRecord[]): StudyRecords => ({ ...records, readings });
const changed = (isChanged: (row: ReadingRecord) => boolean, factor: number) =>
  withReadings(records.readings.map((r) => (isChanged(r) ? { ...r, intensity: factor * r.intensity } : r)));
/** Flags of one kind by digestion and analyte, of samples. */
function flagged(of: StudyRecords, kind: ResultFlag['kind']): Map<string, ResultFlag> {
  const study = evaluateStudy(of);
  return new Map(
    study.results
      .filter((r) => r.kind === 'sample')
      .flatMap((r) =>
        flagsOfDigestion(study, r)
          .filter((flag) => flag.kind === kind)
          .map((flag) => [`${r.digestion} ${r.analyte}`, flag] as const),
      ),
  );
}

describe('readings of one solution that disagree', () => {
  it('hold the result that their mean would have hidden them in', () => {
    // One of three 15 % higher: s = 0.15/√3 and a mean of 1.05, so 8.2 %; noise of 0.5 % beside it.
    const found = flagged(
      changed((r) => own.has(r.solution) && r.analyte === 'Si' && r.repeat === 2, 1.15),
      'readings disagree',
    );
    expect([...found.keys()]).toEqual([`${digestion} Si`]);
    const flag = found.get(`${digestion} Si`)!;
    expect(flag.holds).toBe(true);
    expect(flag.text).toMatch(
      new RegExp(
        `^${digestion}: its 3 readings of Si at 251.611 nm scatter by (7\\.[6-9]|8\\.\\d) %, (1\\d|2[0-3]) times as much as those of the other solutions lead to expect \\(Cochran’s test of the line at 0\\.1 %\\)$`,
      ),
    );
  });

  it('are found where two solutions have some', () => {
    const other = records.digestions.find((d) => d.sample === 'RS-09')!.digestion;
    const both = changed(
      (r) => [digestion, other].includes(r.solution) && r.analyte === 'Fe' && r.repeat === 1,
      0,
    );
    expect([...flagged(both, 'readings disagree').keys()]).toEqual([`${digestion} Fe`, `${other} Fe`]);
  });

  it('hold what rests on the drift of a check solution', () => {
    const checks = [
      ...new Set(records.readings.filter((r) => r.solution === 'CHK').map((r) => r.position)),
    ].sort((a, b) => a - b);
    const [before, at, after] = checks.slice(3, 6) as [number, number, number];
    const found = flagged(
      changed((r) => r.position === at && r.analyte === 'Ca' && r.repeat === 3, 1.1),
      'readings disagree',
    );
    const beside = records.readings.filter((r) => r.position > before && r.position < after);
    const digestions = records.digestions
      .filter((d) => d.kind === 'sample' && beside.some((r) => r.solution === d.digestion))
      .map((d) => d.digestion);
    expect(digestions.length).toBeGreaterThan(5);
    expect([...found.keys()]).toEqual(digestions.map((name) => `${name} Ca`));
    expect(found.get(`${digestions[0]} Ca`)!.text).toMatch(
      new RegExp(`^check solution at position ${at}: its 6 readings of Ca at 317.933 nm scatter by`),
    );
  });

  it('are none in sound runs', () => {
    for (const seed of [1, 2, 3, 77]) {
      const sound = zirconRoutineRun(seed).records;
      const digestions = sound.digestions.filter((d) => d.vesselEmptyG !== null);
      expect([...flagged({ ...sound, digestions }, 'readings disagree').keys()]).toEqual([]);
    }
  });
});

describe('fewer readings than the rule of the plan', () => {
  it('hold the result, whose mean scatters more than that of the validation', () => {
    const found = flagged(
      withReadings(records.readings.filter((r) => r.solution !== digestion || r.repeat === 1)),
      'fewer readings than planned',
    );
    // What is read in the digestion itself.
    expect([...found.keys()]).toEqual(['Pr', 'Hf', 'Fe', 'Ti', 'Ca'].map((a) => `${digestion} ${a}`));
    expect(found.get(`${digestion} Ti`)).toEqual({
      kind: 'fewer readings than planned',
      text: `${digestion}: 1 of 3 readings of Ti at 334.94 nm, fewer than the rule of the plan`,
      holds: true,
    });
  });
});

describe('a second line that the plan asks for', () => {
  const fe = records.plan.analytes.find((a) => a.analyte === 'Fe')!;
  const second = fe.secondLineNm!;

  it('holds the result where it was not read', () => {
    const found = flagged(
      withReadings(records.readings.filter((r) => r.solution !== digestion || r.lineNm !== second)),
      'lines not compared',
    );
    expect([...found]).toEqual([
      [
        `${digestion} Fe`,
        {
          kind: 'lines not compared',
          text: `${digestion}: no result at ${second} nm to hold that at ${fe.lineNm} nm against`,
          holds: true,
        },
      ],
    ]);
  });

  it('contradicts a line that finds nothing', () => {
    const found = flagged(
      changed((r) => r.solution === digestion && r.lineNm === fe.lineNm, 0),
      'lines disagree',
    );
    expect(found.get(`${digestion} Fe`)!.text).toMatch(
      new RegExp(`^${digestion}: ${second} nm finds [\\d.]+ mg/kg where ${fe.lineNm} nm finds none$`),
    );
  });

  it('holds a result made of both where its drift is not known', () => {
    const analytes = records.plan.analytes.map((a) =>
      a.analyte === 'Fe' ? { ...a, secondLineShare: 0.35 } : a,
    );
    const both = { ...records, plan: { ...records.plan, analytes } };
    expect(flagged(both, 'no check solution in the run').size).toBe(0);
    const readings = records.readings.filter((r) => r.solution !== 'CHK' || r.lineNm !== second);
    const found = flagged({ ...both, readings }, 'no check solution in the run');
    expect(found.get(`${digestion} Fe`)).toEqual({
      kind: 'no check solution in the run',
      text: `${digestion}: CHK was not read at ${second} nm, so that the drift of Fe there is not taken off`,
      holds: true,
    });
  });
});
