import { describe, expect, it } from 'vitest';
import type { StudyRecords } from '../../../src/records/study-records.js';
import { zirconRoutineRun } from '../../../src/scenario/routine/zircon-routine-run.js';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { validateMatrix } from '../../../src/studies/matrix/validate-matrix.js';
import type { RoutineResult } from '../../../src/studies/routine-results/routine-result.js';
import { routineResults } from '../../../src/studies/routine-results/routine-results.js';
import {
  limitsOfTotal,
  samplesWithoutTotal,
  totalOfSample,
} from '../../../src/studies/routine-results/total-of-sample.js';

const validation = validateMatrix(zirconPigmentStudy({ seed: 77 }).records);
const { records } = zirconRoutineRun(77);
const { results, totals } = routineResults(records, validation);
const sample = 'RS-05';

const perUnit = { 'mg/kg': 1e-4, 'g/100 g': 1 } as const;
const contentOf = ({ value, unit }: RoutineResult) => value! * perUnit[unit];
const own = (of: readonly RoutineResult[] = results) => of.filter((r) => r.sample === sample);
const total = (study: StudyRecords = records, of: readonly RoutineResult[] = results) =>
  totalOfSample(study, validation, sample, of)[0]!;
const withPlan = (plan: Partial<StudyRecords['plan']>): StudyRecords => ({
  ...records,
  plan: { ...records.plan, ...plan },
});

describe('the total of oxides of a sample', () => {
  const base = total();

  it('lacks the oxide that the run does not determine, and says how much of it the validation found', () => {
    // Means of the digestions of each level, from mg/kg or g/100 g.
    const { study } = validation;
    const { unit } = study.index.records.plan.analytes.find((a) => a.analyte === 'Al')!;
    const means = study.index.records.plan.levels.map((level) => {
      const values = study.results
        .filter((r) => r.analyte === 'Al' && r.kind === 'sample' && r.sample === level.sample)
        .map((r) => r.value! * perUnit[unit]);
      return values.reduce((sum, value) => sum + value, 0) / values.length;
    });
    const [found] = base.missing;
    expect(base.missing).toHaveLength(1);
    expect(found!.name).toBe('Al2O3');
    expect(found!.reason).toMatch(/^not in the plan of the run; by its validation, Al is not fit .*trueness/);
    expect(found!.atLevels!.lowest).toAgreeWithin(Math.min(...means), 1e-12);
    expect(found!.atLevels!.highest).toAgreeWithin(Math.max(...means), 1e-12);
  });

  it('does not add what is reported as the element, and is not judged without its oxide', () => {
    const analytes = records.plan.analytes.map(({ oxide, ...scope }) =>
      scope.analyte === 'Zr' || oxide === undefined ? scope : { ...scope, oxide },
    );
    const elemental = routineResults(withPlan({ analytes }), validation);
    const found = elemental.totals.find((t) => t.sample === sample)!;
    const zirconia = own().find((r) => r.analyte === 'Zr')!;
    expect(found.value).toAgreeWithin(base.value - contentOf(zirconia), 1e-10);
    expect(found.missing).toContainEqual({
      name: 'Zr',
      reason: 'reported as the element, not as an oxide',
      atLevels: null,
    });
    expect(base.within).toBe(true);
    expect(found.within).toBeNull();
  });

  it('is not judged where an analyte of the run has no value, which it names with the reason', () => {
    const lost = results.find((r) => r.sample === 'RS-19' && r.analyte === 'Si')!;
    const without = [
      ...results.filter((r) => r.sample !== sample || r.analyte !== 'Si'),
      { ...lost, sample },
    ];
    const found = total(records, without);
    expect(found.missing.map(({ name }) => name)).toEqual(['SiO2', 'Al2O3']);
    expect(found.missing[0]!.reason).toContain('no mass of the empty vessel');
    expect(found.within).toBeNull();
  });

  it('holds the loss on ignition where it is recorded', () => {
    const loss = {
      sample,
      lossGPer100G: 0.4,
      basis: 'dry to ignited' as const,
      standardUncertaintyGPer100G: 0.3,
    };
    const found = total({ ...records, moisture: [...records.moisture, loss] });
    expect(found.value).toAgreeWithin(base.value + 0.4, 1e-12);
    expect(found.standardUncertainty).toAgreeWithin(Math.hypot(base.standardUncertainty, 0.3), 1e-12);
    expect(found).toMatchObject({
      quantity: 'total of oxides and loss on ignition',
      losses: ['loss on ignition'],
      lossesLeftOut: null,
    });
    expect(base).toMatchObject({ quantity: 'total of oxides', losses: [] });
    expect(base.lossesLeftOut).toBe('loss on ignition, which is not recorded');
  });

  // The alumina that may be missing is between nothing and the 0.5 g/100 g of the highest level.
  it.each<[string, number, number, boolean | null]>([
    ['inside in any case', -1, 1, true],
    ['outside above in any case', -2, -0.1, false],
    ['outside below in any case', 1, 2, false],
    ['inside only without alumina', -1, 0.1, null],
    ['inside only with alumina', 0.1, 1, null],
    ['below without and above with alumina', 0.1, 0.2, null],
  ])('is judged where alumina does not decide: %s', (_, low, high, within) => {
    const judgedIn = (unit: string, factor: number) => {
      const criteria = records.plan.criteria.map((c) =>
        c.characteristic === 'total of oxides'
          ? { ...c, unit, lower: (base.value + low) * factor, limit: (base.value + high) * factor }
          : c,
      );
      return total(withPlan({ criteria })).within;
    };
    expect(base.missing[0]!.atLevels!.highest).toBeGreaterThan(0.2);
    expect(base.missing[0]!.atLevels!.highest).toBeLessThan(1);
    expect(judgedIn('g/100 g', 1)).toBe(within);
    expect(judgedIn('mg/kg', 1e4)).toBe(within);
  });

  it('takes the one edge of a criterion', () => {
    const criteria = records.plan.criteria.map((c) => {
      const { lower: _, ...rest } = c;
      return c.characteristic === 'total of oxides' ? { ...rest, kind: 'at least' as const, limit: 97 } : c;
    });
    expect(limitsOfTotal({ ...records.plan, criteria })).toMatchObject({ low: 97, high: Infinity });
    expect(total(withPlan({ criteria })).within).toBe(true);
    expect(total(withPlan({ criteria: [] })).within).toBeNull();
  });

  it('is missing by name and reason where the sample has none', () => {
    expect(samplesWithoutTotal(results, totals)).toEqual([
      { sample: 'RS-19', reason: expect.stringMatching(/^D-\d+: no mass of the empty vessel/) },
    ]);
  });
});
