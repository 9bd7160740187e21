import { describe, expect, it } from 'vitest';
import type { StudyRecords } from '../../../src/records/study-records.js';
import { zirconRoutineRun } from '../../../src/scenario/routine/zircon-routine-run.js';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { validateMatrix } from '../../../src/studies/matrix/validate-matrix.js';
import { type RoutineResults, routineResults } from '../../../src/studies/routine-results/routine-results.js';
import { twoRuns } from './two-runs.js';

const seed = 77;
const validation = validateMatrix(zirconPigmentStudy({ seed }).records);
const { records } = zirconRoutineRun(seed);
const evaluate = (of: StudyRecords) => routineResults(of, validation);
const controlsOf = ({ controls }: RoutineResults, analyte = 'Zr') =>
  controls.filter((c) => /^reference material/.test(c.control) && c.about === analyte);
const kind = 'no reference material in the run';

const references = records.digestions.filter((d) => d.kind === 'reference').map((d) => d.digestion);
const ofReferences = new Set([
  ...references,
  ...records.dilutions.filter((d) => references.includes(d.digestion)).map((d) => d.dilution),
]);

/** Every result with a value is held because no material stands beside it, and no control of a material was made. */
function expectNotMade(found: RoutineResults, rule: string): void {
  for (const { analyte } of records.plan.analytes) {
    expect(controlsOf(found, analyte)).toMatchObject([
      { control: 'reference material', found: null, passed: false, rule: `not made: ${rule}` },
    ]);
  }
  for (const r of found.results.filter((each) => each.value !== null)) {
    expect(r.status).toBe('held');
    expect(r.flags).toContainEqual({ kind, text: `reference material: not made: ${rule}`, holds: true });
  }
}

describe('a run without a reference material that the validation knows', () => {
  it('holds every result where none was digested', () => {
    const none: StudyRecords = {
      ...records,
      digestions: records.digestions.filter((d) => d.kind !== 'reference'),
      dilutions: records.dilutions.filter((d) => !references.includes(d.digestion)),
      readings: records.readings.filter((r) => !ofReferences.has(r.solution)),
      references: [],
    };
    expectNotMade(evaluate(none), 'none was digested');
  });

  it('holds every result where the validation never digested it', () => {
    const other: StudyRecords = {
      ...records,
      digestions: records.digestions.map((d) => (d.kind === 'reference' ? { ...d, sample: 'QRM-9' } : d)),
      references: records.references.map((r) => ({ ...r, material: 'QRM-9' })),
      moisture: records.moisture.map((m) => (m.sample === 'QRM-1' ? { ...m, sample: 'QRM-9' } : m)),
    };
    expectNotMade(evaluate(other), 'the validation has 0 result(s) of QRM-9, expected at least 5');
  });
});

describe('two runs of measurement, of which one lacks the reference material', () => {
  const later = (d: StudyRecords['digestions'][number]) => d.kind === 'sample' && d.digestion >= 'D-413';
  const { records: split } = twoRuns(records, later);

  it('holds the results of that one, and not those of the other', () => {
    const found = evaluate(split);
    expect(controlsOf(found).map((c) => [c.control, c.found === null])).toEqual([
      ['reference material QRM-1, run R-R1', false],
      ['reference material, run R-R2', true],
    ]);
    expect(controlsOf(found)[1]!.rule).toBe('not made: none was read in it');
    const samples = new Set(records.digestions.filter(later).map((d) => d.sample));
    const valued = found.results.filter((r) => r.analyte === 'Zr' && r.value !== null);
    expect(valued.filter((r) => samples.has(r.sample)).length).toBeGreaterThan(5);
    for (const { sample, flags } of valued)
      expect(flags.some((f) => f.kind === kind)).toBe(samples.has(sample));
  });

  it('makes the control there from a material that was read in both', () => {
    const again = split.readings
      .filter((r) => ofReferences.has(r.solution))
      .map((r) => ({ ...r, run: 'R-R2', time: r.time.replace('2026-04-14', '2026-04-15') }));
    const found = evaluate({ ...split, readings: [...split.readings, ...again] });
    const [first, second, ...more] = controlsOf(found);
    expect(more).toEqual([]);
    expect(second!.control).toBe('reference material QRM-1, run R-R2');
    // The same readings, standards and check solutions give the same mean.
    expect(second!.found).toAgreeWithin(first!.found!, 1e-12);
    expect(found.results.flatMap((r) => r.flags.map((f) => f.kind))).not.toContain(kind);
  });
});
