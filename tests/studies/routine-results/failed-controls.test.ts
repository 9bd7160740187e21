import { describe, expect, it } from 'vitest';
import type { StudyRecords } from '../../../src/records/study-records.js';
import type { ReadingRecord } from '../../../src/records/tables/readings.js';
import { zirconRoutineRun } from '../../../src/scenario/routine/zircon-routine-run.js';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { validateMatrix } from '../../../src/studies/matrix/validate-matrix.js';
import { type RoutineResults, routineResults } from '../../../src/studies/routine-results/routine-results.js';
import { twoRuns } from './two-runs.js';

const seed = 77;
const validation = validateMatrix(zirconPigmentStudy({ seed }).records);
const { records } = zirconRoutineRun(seed);

const withReadings = (of: StudyRecords, change: (row: ReadingRecord) => ReadingRecord): StudyRecords => ({
  ...of,
  readings: of.readings.map(change),
});
const flagged = (of: RoutineResults, analyte: string, kind: string) =>
  of.results.filter((r) => r.analyte === analyte && r.flags.some((f) => f.holds && f.kind === kind));
const solutionsOf = (chosen: (row: StudyRecords['digestions'][number]) => boolean) => {
  const digestions = new Set(records.digestions.filter(chosen).map((d) => d.digestion));
  const dilutions = records.dilutions.filter((d) => digestions.has(d.digestion)).map((d) => d.dilution);
  return new Set([...digestions, ...dilutions]);
};

describe('a failed control of a routine run', () => {
  it('of the reference material holds every result of its analyte, and names itself', () => {
    const material = solutionsOf((d) => d.kind === 'reference');
    const found = routineResults(
      withReadings(records, (r) =>
        material.has(r.solution) && r.analyte === 'Zr' ? { ...r, intensity: 1.1 * r.intensity } : r,
      ),
      validation,
    );
    const zr = found.results.filter((r) => r.analyte === 'Zr' && r.value !== null);
    expect(zr.map((r) => r.status)).toEqual(zr.map(() => 'held'));
    expect(zr.every((r) => r.conformity === null)).toBe(true);
    expect(zr[1]!.flags).toContainEqual({
      kind: 'reference material outside its limits',
      text: expect.stringMatching(
        /^reference material QRM-1: found 6\d\.\d+ g\/100 g, allowed 6\d\.\d+ to 6\d/,
      ),
      holds: true,
    });
    expect(flagged(found, 'Si', 'reference material outside its limits')).toEqual([]);
  });

  it('of the flux lot holds every result that was fused with it', () => {
    const found = routineResults({ ...records, plan: { ...records.plan, fluxLot: 'LM-2301' } }, validation);
    expect(found.results.filter((r) => r.status === 'reported' || r.status === 'below limit')).toEqual([]);
    expect(found.results[1]!.flags).toContainEqual({
      kind: 'flux lot not that of the validation',
      text: expect.stringMatching(/^flux lot LM-2301: the lot of the validation is LM-2217/),
      holds: true,
    });
  });

  it('of a check solution in the middle of the run holds what lies between its neighbours', () => {
    const checks = [
      ...new Set(records.readings.filter((r) => r.solution === 'CHK').map((r) => r.position)),
    ].sort((a, b) => a - b);
    const middle = checks[2]!;
    const found = routineResults(
      withReadings(records, (r) =>
        r.position === middle && r.analyte === 'Zr' ? { ...r, intensity: 1.08 * r.intensity } : r,
      ),
      validation,
    );
    const control = found.controls.find((c) => !c.passed && c.about === 'Zr')!;
    expect(control.control).toBe(`check solution at position ${middle}`);
    const between = records.dilutions.filter(({ dilution, digestion }) => {
      const { position } = records.readings.find((r) => r.solution === dilution)!;
      const row = records.digestions.find((d) => d.digestion === digestion)!;
      const complete = row.kind === 'sample' && row.vesselEmptyG !== null;
      return complete && position > checks[1]! && position < checks[3]!;
    });
    const samples = new Set(
      between.map((d) => records.digestions.find((row) => row.digestion === d.digestion)!.sample),
    );
    expect(samples.size).toBeGreaterThan(3);
    expect(new Set(flagged(found, 'Zr', 'drift beyond its limit').map((r) => r.sample))).toEqual(samples);
  });
});

describe('a routine run measured in two runs', () => {
  const second = (d: { readonly digestion: string }) => d.digestion >= 'D-413';
  const { last, records: split } = twoRuns(records, second);
  const drifting = withReadings(split, (r) =>
    r.run === 'R-R2' && r.solution === 'CHK' && r.position === last && r.analyte === 'Zr'
      ? { ...r, intensity: 1.08 * r.intensity }
      : r,
  );
  const held = (of: StudyRecords) =>
    flagged(routineResults(of, validation), 'Zr', 'drift beyond its limit').map((r) => r.sample);

  it('judges each solution by the check solutions of its own run', () => {
    const samples = held(drifting);
    expect(samples.length).toBeGreaterThan(0);
    for (const sample of samples) expect(records.digestions.filter((d) => d.sample === sample).every(second));
    // In whatever order the table holds the runs.
    const turned = { ...drifting, readings: [...drifting.readings].reverse() };
    expect(held(turned)).toEqual(samples);
  });

  it('has a first and a last check solution, and a reference material, of each run', () => {
    const found = routineResults(drifting, validation);
    const zr = found.controls.filter((c) => c.about === 'Zr').map((c) => c.control);
    expect(zr).toEqual(
      expect.arrayContaining([
        'first check solution, run R-R1',
        'last check solution, run R-R1',
        'first check solution, run R-R2',
        'last check solution, run R-R2',
        'reference material QRM-1, run R-R1',
        'reference material QRM-1, run R-R2',
      ]),
    );
    // The material read beside the drifting check solution fails as well, for the correction follows that solution.
    const failed = found.controls.filter((c) => c.about === 'Zr' && !c.passed).map((c) => c.control);
    expect(failed.filter((name) => name.includes('check solution'))).toEqual([
      'last check solution, run R-R2',
    ]);
  });
});
