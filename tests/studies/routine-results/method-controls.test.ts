import { describe, expect, it } from 'vitest';
import type { AnalyteScope, StudyPlan } from '../../../src/records/study.js';
import { zirconRoutineRun } from '../../../src/scenario/routine/zircon-routine-run.js';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { evaluateStudy } from '../../../src/studies/evaluate-study.js';
import { validateMatrix } from '../../../src/studies/matrix/validate-matrix.js';
import { methodControls } from '../../../src/studies/routine-results/method-controls.js';
import { routineResults } from '../../../src/studies/routine-results/routine-results.js';

const seed = 77;
const validation = validateMatrix(zirconPigmentStudy({ seed }).records);
const { records } = zirconRoutineRun(seed);
const { plan } = records;
const run = evaluateStudy({
  ...records,
  digestions: records.digestions.filter((d) => d.vesselEmptyG !== null),
});

/** Controls of the run as if its plan, or its table of interferences, were another one. */
const controlsWith = (change: Partial<StudyPlan>, interference = records.interference) =>
  methodControls(
    {
      ...run,
      index: { ...run.index, records: { ...run.index.records, interference, plan: { ...plan, ...change } } },
    },
    validation,
  );
const failing = (...from: Parameters<typeof controlsWith>) =>
  controlsWith(...from)
    .filter((c) => !c.passed)
    .map((c) => [c.about, c.rule, c.holds!.reach.analyte]);
const withScope = (analyte: string, change: Partial<AnalyteScope>) => ({
  analytes: plan.analytes.map((scope) => (scope.analyte === analyte ? { ...scope, ...change } : scope)),
});
const names = plan.analytes.map((a) => a.analyte);

describe('the plan of a run against that of its validation', () => {
  it('passes where the run measures as validated', () => {
    expect(controlsWith({})).toEqual([
      {
        control: 'method as validated',
        about: 'QML-F2-07',
        found: 0,
        low: null,
        high: 0,
        unit: 'changes',
        passed: true,
        rule: 'the plan of the run against that of the validation',
        holds: { kind: 'not as validated', reach: { analyte: null, sample: null, run: null, between: null } },
      },
    ]);
  });

  it('names what bears on all results', () => {
    expect(failing({ matrix: 'rutile pigment', nominal: { ...plan.nominal, portionG: 0.1 } })).toEqual([
      [
        'QML-F2-07',
        'matrix rutile pigment, in the validation zircon-based ceramic pigment; nominal portion in g 0.1, in the validation 0.2',
        null,
      ],
    ]);
    const internalStandard = { ...plan.internalStandard, element: 'Y', lineNm: 371.029 };
    expect(failing({ internalStandard })[0]![1]).toBe(
      'internal standard Y 371.029 nm, on line, in the validation Sc 361.383 nm, on line',
    );
    expect(failing({ resultRule: { digestions: 1, readings: 2 } })[0]![1]).toBe(
      '2 readings of a solution, in the validation 3',
    );
  });

  it('names the line of an analyte, and holds that one alone', () => {
    expect(failing(withScope('Fe', { lineNm: 238.204, secondLineNm: 259.94 }))).toEqual([
      [
        'Fe',
        'line in nm 238.204, in the validation 259.94; second line in nm 259.94, in the validation 238.204',
        'Fe',
      ],
    ]);
  });

  it('names a correction and a stated input that the run leaves out', () => {
    expect(failing({}, [])).toEqual([
      ['Hf', 'no correction for Zr at 264.141 nm', 'Hf'],
      ['Ca', 'no correction for Pr at 317.933 nm', 'Ca'],
    ]);
    const statedInputs = plan.statedInputs.filter((s) => s.name !== 'sample heterogeneity');
    expect(failing({ statedInputs })).toEqual(
      names.map((name) => [name, 'no stated input "sample heterogeneity", so that u leaves it out', name]),
    );
  });

  it('names a criterion that is missing, or wider', () => {
    const without = (characteristic: string) => ({
      criteria: plan.criteria.filter((c) => c.characteristic !== characteristic),
    });
    expect(failing(without('check solution')).map(([of, rule]) => `${of}: ${rule}`)).toEqual(
      names.map((name) => `${name}: no criterion for check solution`),
    );
    expect(failing(without('second line')).map(([of]) => of)).toEqual(['Zr', 'Fe', 'Ti']);
    expect(failing(without('internal standard recovery'))[0]![1]).toBe(
      'no criterion for internal standard recovery',
    );
    const limited = (limit: number) => ({
      criteria: plan.criteria.map((c) => (c.characteristic === 'check solution' ? { ...c, limit } : c)),
    });
    expect(failing(limited(10))[0]).toEqual([
      'Zr',
      'the criterion for check solution allows more than that of the validation',
      'Zr',
    ]);
    expect(failing(limited(4))).toEqual([]);
  });

  it('holds the results that it bears on', () => {
    const found = routineResults({ ...records, interference: [] }, validation);
    expect(found.accepted).toBe(false);
    const missing: Record<string, string> = { Hf: 'Zr at 264.141 nm', Ca: 'Pr at 317.933 nm' };
    for (const r of found.results.filter((each) => each.value !== null)) {
      const lacks = missing[r.analyte];
      const own = r.flags.filter((f) => f.kind === 'not as validated').map((f) => f.text);
      expect(own).toEqual(
        lacks === undefined ? [] : [`method as validated ${r.analyte}: no correction for ${lacks}`],
      );
      if (lacks !== undefined) expect(r.status).toBe('held');
    }
  });
});
