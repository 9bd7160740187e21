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

/** Without these digestions, or only without their readings. */
function without(digestions: readonly string[], readingsOnly = false): StudyRecords {
  const dilutions = records.dilutions.filter((d) => digestions.includes(d.digestion)).map((d) => d.dilution);
  const gone = new Set([...digestions, ...dilutions]);
  const readings = records.readings.filter((r) => !gone.has(r.solution));
  if (readingsOnly) return { ...records, readings };
  return {
    ...records,
    readings,
    digestions: records.digestions.filter((d) => !gone.has(d.digestion)),
    dilutions: records.dilutions.filter((d) => !gone.has(d.dilution)),
  };
}

const blanks = records.digestions.filter((d) => d.kind === 'blank').map((d) => d.digestion);

describe('a routine run without what it needs', () => {
  it.each([
    ['no blank of the flux lot LM-2217 in the run', blanks],
    ['1 usable blank(s) of the flux lot LM-2217 in the run, expected at least 2', blanks.slice(1)],
  ])('holds every result: %s', (words, missing) => {
    const found = evaluate(without(missing));
    const text = `procedure blank: not made: ${words}, so that none is subtracted`;
    const valued = found.results.filter((r) => r.value !== null);
    for (const r of valued) {
      expect(r.status).toBe('held');
      expect(r.flags).toContainEqual({ kind: 'no blank in the run', text, holds: true });
    }
    const controls = found.controls.filter((c) => c.control === 'procedure blank');
    expect(controls.map((c) => [c.found, c.passed])).toEqual(
      records.plan.analytes.map(() => [null, false] as const),
    );
  });

  it('holds every result where no digestion of the reference material has a value, and says why', () => {
    const references = records.digestions.filter((d) => d.kind === 'reference').map((d) => d.digestion);
    const withoutTare = (gone: readonly string[]): StudyRecords => ({
      ...records,
      digestions: records.digestions.map((d) =>
        gone.includes(d.digestion) ? { ...d, vesselEmptyG: null } : d,
      ),
    });
    const controlsOf = (of: RoutineResults) =>
      of.controls.filter((c) => /^reference material/.test(c.control));
    const [whole, partly, none, unread] = [
      ...[records, withoutTare(references.slice(1)), withoutTare(references)],
      without(references, true),
    ].map(evaluate) as [RoutineResults, RoutineResults, RoutineResults, RoutineResults];
    for (const found of [none, unread]) {
      expect(controlsOf(found).map((c) => [c.control, c.about, c.found, c.passed])).toEqual(
        controlsOf(whole).map((c) => [c.control, c.about, null, false]),
      );
      for (const r of found.results.filter((each) => each.value !== null)) {
        expect(r.status).toBe('held');
        expect(r.flags.map(({ kind }) => kind)).toContain('no reference material in the run');
      }
    }
    expect(controlsOf(none)[0]!.rule).toMatch(
      /^not made: D-\d+: no mass of the empty vessel, so the solution has no mass; D-\d+: no mass/,
    );
    expect(controlsOf(unread)[0]!.rule).toMatch(
      /^not made: D-\d+: no reading of Zr; D-\d+: no reading of Zr$/,
    );
    // One is left: its mean is judged by wider limits, and the other one is named.
    const [two, one] = [controlsOf(whole)[0]!, controlsOf(partly)[0]!];
    expect(one.rule).toMatch(/^mean of 1 digestion\(s\).*; D-\d+: no mass of the empty vessel/);
    expect(one.high! - one.low!).toBeGreaterThan(two.high! - two.low!);
    expect(controlsOf(whole).length).toBe(records.plan.analytes.length);
  });

  it('holds the results of an analyte whose validation has no limit to hold the blank against', () => {
    const studied = zirconPigmentStudy({ seed }).records;
    const ofBlanks = new Set(studied.digestions.filter((d) => d.kind === 'blank').map((d) => d.digestion));
    const found = routineResults(
      records,
      validateMatrix({
        ...studied,
        exclusions: [
          ...studied.exclusions,
          ...[...ofBlanks].map((digestion) => ({
            table: 'digestions' as const,
            rowKey: `${digestion}|Ti`,
            who: 'S. Varrendale',
            when: '2026-03-01',
            technicalCause: 'scoop of titanium',
          })),
        ],
      }),
    );
    const [control, ...more] = found.controls.filter(
      (c) => c.control === 'procedure blank' && c.about === 'Ti',
    );
    expect(more).toEqual([]);
    expect(control).toMatchObject({ found: null, passed: false });
    expect(control!.rule).toBe(
      'not made: the validation found no limit of quantification of Ti (no procedure blank was read)',
    );
    for (const r of found.results.filter(({ analyte, value }) => analyte === 'Ti' && value !== null)) {
      expect(r.status).toBe('held');
      expect(r.flags.map((f) => f.kind)).toContain('blank not judged');
    }
    expect(result(found, 'RS-20', 'Zr').flags.map((f) => f.kind)).not.toContain('blank not judged');
  });

  it('holds every result where no standards are stated, and lists the check solutions as not made', () => {
    const found = evaluate({ ...records, standards: [] });
    const ca = result(found, 'RS-02', 'Ca');
    expect(ca.status).toBe('held');
    expect(ca.flags.filter((f) => f.holds)).toEqual([
      {
        kind: 'standards not stated',
        text: 'The uncertainty of the stock standards is not recorded. u leaves it out.',
        holds: true,
      },
      {
        kind: 'no check solution in the run',
        text: 'check solution: not made: the table of standards does not state what CHK holds of Ca',
        holds: true,
      },
    ]);
    const checks = found.controls.filter((c) => c.control === 'check solution');
    expect(checks.map((c) => c.about)).toEqual(records.plan.analytes.map((a) => a.analyte));
    expect(checks.every((c) => c.found === null && !c.passed)).toBe(true);
  });

  it('holds every result where no check solution was read', () => {
    const found = evaluate({
      ...records,
      readings: records.readings.filter((r) => r.solution !== records.plan.driftCheckSolution),
    });
    expect(
      result(found, 'RS-02', 'Zr')
        .flags.filter((f) => f.holds)
        .map((f) => f.text),
    ).toContain('check solution: not made: CHK was not read');
  });
});

describe('a sample with fewer digestions than were made', () => {
  const [first, second] = records.digestions.filter((d) => d.sample === 'RS-25').map((d) => d.digestion);
  const unread = without([second!], true);
  const flagsOf = (of: StudyRecords, sample = 'RS-25') =>
    result(evaluate(of), sample, 'Zr').flags.map(({ kind, text, holds }) => ({ kind, text, holds }));

  it('names the digestion that was not read, and lists only the one that gave the value', () => {
    const found = result(evaluate(unread), 'RS-25', 'Zr');
    expect(found.digestions).toEqual([first]);
    expect(found.status).toBe('reported');
    expect(found.flags).toContainEqual({
      kind: 'digestion without a reading',
      text: `${second}: no reading of Zr`,
      holds: false,
    });
  });

  it('names the digestion that was excluded, with the reason', () => {
    const exclusion = {
      table: 'digestions',
      rowKey: second!,
      who: 'S. Varrendale',
      when: '2026-04-14',
      technicalCause: 'lid left open',
    };
    const found = { ...records, exclusions: [exclusion] };
    expect(flagsOf(found)).toContainEqual({
      kind: 'digestion excluded',
      text: `${second}: excluded (lid left open)`,
      holds: false,
    });
  });

  it('is held where the plan of the run asks for more', () => {
    const two = { ...unread, plan: { ...records.plan, resultRule: { digestions: 2, readings: 3 } } };
    const found = evaluate(two);
    const flag = {
      kind: 'fewer digestions than planned',
      text: 'fewer digestions than the rule of the plan: 1 of 2 gave a value',
      holds: true,
    };
    for (const sample of ['RS-25', 'RS-02']) {
      expect(result(found, sample, 'Zr').flags).toContainEqual(flag);
      expect(result(found, sample, 'Zr').status).toBe('held');
    }
    expect(result(found, 'RS-05', 'Zr').status).toBe('reported');
  });
});
