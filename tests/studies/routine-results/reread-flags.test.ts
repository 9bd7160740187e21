import { describe, expect, it } from 'vitest';
import type { StudyRecords } from '../../../src/records/study-records.js';
import { zirconRoutineRun } from '../../../src/scenario/routine/zircon-routine-run.js';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { validateMatrix } from '../../../src/studies/matrix/validate-matrix.js';
import { type RoutineResults, routineResults } from '../../../src/studies/routine-results/routine-results.js';

const seed = 77;
const validation = validateMatrix(zirconPigmentStudy({ seed }).records);
const { records } = zirconRoutineRun(seed);
const sample = 'RS-20';
const digestion = records.digestions.find((d) => d.sample === sample)!.digestion;
const dilution = records.dilutions.find((d) => d.digestion === digestion)!.dilution;
const isOwn = (solution: string) => solution === digestion || solution === dilution;
const isCommon = (solution: string) => solution === 'CHK' || solution.startsWith('CAL');

/** The standards, the check solutions and one digestion with its dilution once more the next day, that one times a number. */
function again(factor: number): StudyRecords {
  const later = records.readings
    .filter((r) => isOwn(r.solution) || isCommon(r.solution))
    .map((r) => ({
      ...r,
      run: 'R-R2',
      time: r.time.replace('2026-04-14', '2026-04-15'),
      intensity: (isOwn(r.solution) ? factor : 1) * r.intensity,
    }));
  return {
    ...records,
    readings: [...records.readings, ...later],
    calibration: [...records.calibration, ...records.calibration.map((c) => ({ ...c, run: 'R-R2' }))],
  };
}
const flagsOf = (of: RoutineResults) =>
  of.results.flatMap((r) =>
    r.flags.filter((f) => f.kind === 'read again').map((f) => ({ ...f, of: `${r.sample} ${r.analyte}` })),
  );

describe('a digestion that was read again', () => {
  it('is told, and goes out where both readings agree', () => {
    const flags = flagsOf(routineResults(again(1), validation));
    expect(flags.map((f) => f.of)).toEqual(records.plan.analytes.map((a) => `${sample} ${a.analyte}`));
    for (const { text, holds } of flags) {
      expect(holds).toBe(false);
      expect(text).toMatch(
        /differs by −?0\.0 %, allowed ±\d\.\d % \(critical range, 95 %\); the first reading gives the result$/,
      );
    }
  });

  it('is held where they lie farther apart than two digestions of two days may', () => {
    const flags = flagsOf(routineResults(again(1.2), validation));
    expect(flags.map((f) => f.holds)).toEqual(records.plan.analytes.map(() => true));
    const zirconium = flags.find((f) => f.of === `${sample} Zr`)!;
    // 1.2 against 1, relative to their mean 1.1.
    expect(zirconium.text).toMatch(
      new RegExp(
        `^${digestion}: read again in run R-R2, position \\d+: Zr differs by 18\\.[1-3] %, allowed ±`,
      ),
    );
  });

  it('is told of a second place in the same run too', () => {
    const last = Math.max(...records.readings.map((r) => r.position));
    const at = (position: number, hour: string) => (r: (typeof records.readings)[number]) => ({
      ...r,
      position,
      time: r.time.replace(/T\d\d/, `T${hour}`),
    });
    const more = [
      ...records.readings.filter((r) => r.solution === digestion).map(at(last + 1, '19')),
      ...records.readings.filter((r) => r.position === last).map(at(last + 2, '20')),
    ];
    const flags = flagsOf(
      routineResults({ ...records, readings: [...records.readings, ...more] }, validation),
    );
    expect(flags.map((f) => f.of)).toEqual(['Pr', 'Hf', 'Fe', 'Ti', 'Ca'].map((a) => `${sample} ${a}`));
    expect(flags[0]!.text).toContain(`read again in run R-R1, position ${last + 1}: Pr differs by`);
  });

  it('is none of those that were read once', () => {
    expect(flagsOf(routineResults(records, validation))).toEqual([]);
  });
});
