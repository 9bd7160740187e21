import { describe, expect, it } from 'vitest';
import type { StudyRecords } from '../../../src/records/study-records.js';
import { zirconRoutineRun } from '../../../src/scenario/routine/zircon-routine-run.js';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { validateMatrix } from '../../../src/studies/matrix/validate-matrix.js';
import { type RoutineResults, routineResults } from '../../../src/studies/routine-results/routine-results.js';

const seed = 77;
const validation = validateMatrix(zirconPigmentStudy({ seed }).records);
const { records } = zirconRoutineRun(seed);
const evaluate = (of: StudyRecords) => routineResults(of, validation);
const result = (of: RoutineResults, sample: string, analyte: string) =>
  of.results.find((r) => r.sample === sample && r.analyte === analyte)!;
const digestionOf = (sample: string) => records.digestions.find((d) => d.sample === sample)!.digestion;

describe('a sample whose signal was lost', () => {
  it('is held as below zero, not reported as below its limit', () => {
    const lost = digestionOf('RS-02');
    const found = evaluate({
      ...records,
      readings: records.readings.map((r) =>
        r.solution === lost && r.analyte === 'Ca' ? { ...r, intensity: 0 } : r,
      ),
    });
    const { value, expandedUncertainty, status, flags } = result(found, 'RS-02', 'Ca');
    expect(value! + expandedUncertainty!).toBeLessThan(0);
    expect(status).toBe('held');
    expect(flags).toContainEqual({
      kind: 'below zero',
      text: expect.stringMatching(
        /^RS-02: −[\d.]+ mg\/kg of Ca, below zero by more than its expanded uncertainty \(95 %\) of [\d.]+ mg\/kg$/,
      ),
      holds: true,
    });
    const kinds = found.results
      .filter((r) => r.sample !== 'RS-02')
      .flatMap((r) => r.flags.map((f) => f.kind));
    expect(kinds).not.toContain('below zero');
  });
});

describe('samples that no check solution was read after, or before', () => {
  const checks = [
    ...new Set(records.readings.filter((r) => r.solution === 'CHK').map((r) => r.position)),
  ].sort((a, b) => a - b);
  const without = (...gone: readonly number[]): StudyRecords => ({
    ...records,
    readings: records.readings.filter((r) => !gone.includes(r.position)),
  });
  const heldSamples = (of: RoutineResults) =>
    of.results
      .filter((r) => r.analyte === 'Zr' && r.flags.some((f) => f.kind === 'no check solution in the run'))
      .map((r) => r.sample);
  /** Samples with a value whose diluted solution, in which zirconium is read, stands beyond a position. */
  const samplesWhere = (isBeyond: (position: number) => boolean) => {
    const digestions = records.dilutions
      .filter(({ dilution }) => records.readings.some((r) => r.solution === dilution && isBeyond(r.position)))
      .map((d) => d.digestion);
    const rows = records.digestions.filter((d) => d.kind === 'sample' && d.vesselEmptyG !== null);
    return [...new Set(rows.filter((d) => digestions.includes(d.digestion)).map((d) => d.sample))];
  };

  it('are held where the last ones were not read', () => {
    const last = checks.at(-3)!;
    const found = evaluate(without(...checks.slice(-2)));
    const control = found.controls.find((c) => c.control === 'check solution after the samples')!;
    expect(control).toMatchObject({
      about: 'Zr',
      found: null,
      passed: false,
      rule: `not made: samples were read after the last one, at position ${last}`,
    });
    const samples = samplesWhere((position) => position > last);
    expect(samples.length).toBeGreaterThan(3);
    expect(heldSamples(found)).toEqual(samples);
  });

  it('are held where the first one was not read', () => {
    const found = evaluate(without(checks[0]!));
    const samples = samplesWhere((position) => position < checks[1]!);
    expect(samples.length).toBeGreaterThan(1);
    expect(heldSamples(found)).toEqual(samples);
    expect(found.controls.map((c) => c.control)).toContain('check solution before the samples');
  });

  it('are none in a run that begins and ends with one', () => {
    expect(heldSamples(evaluate(records))).toEqual([]);
    // One in the middle is not asked for: drift is interpolated over the longer way.
    expect(heldSamples(evaluate(without(checks[3]!)))).toEqual([]);
  });
});
