import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { readStudy } from '../../../src/records/read-study.js';
import { writeStudy } from '../../../src/records/write-study.js';
import { zirconRoutineRun } from '../../../src/scenario/routine/zircon-routine-run.js';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { evaluateStudy } from '../../../src/studies/evaluate-study.js';
import { validateMatrix } from '../../../src/studies/matrix/validate-matrix.js';
import type { RoutineResult } from '../../../src/studies/routine-results/routine-result.js';
import { type RoutineResults, routineResults } from '../../../src/studies/routine-results/routine-results.js';
import { ratioOfResults } from '../../../src/uncertainty/correlated-results/combine-results.js';
import { standardUncertaintyOf } from '../../../src/uncertainty/correlated-results/correlated-result.js';
import { coverageFactor } from '../../../src/uncertainty/coverage-factor.js';
import { measuredDensity } from '../../support/measured-density.js';

const seed = 77;
const validation = validateMatrix(zirconPigmentStudy({ seed }).records);
const { records, truth } = zirconRoutineRun(seed);
const found = routineResults(records, validation);

function result(of: RoutineResults, sample: string, analyte: string): RoutineResult {
  return of.results.find((r) => r.sample === sample && r.analyte === analyte)!;
}

const holding = (r: RoutineResult) => r.flags.filter((f) => f.holds).map((f) => f.kind);

describe('a routine run whose validation repeated an analyte at no level', () => {
  it('has no result of it, and all of the others', () => {
    const { study } = validation;
    const results = study.results.filter((r) => r.analyte !== 'Ca' || r.kind !== 'sample');
    const of = routineResults(records, { ...validation, study: { ...study, results } });
    expect(result(of, 'RS-02', 'Ca').flags.map((f) => f.kind)).toContain('no uncertainty');
    expect(result(of, 'RS-02', 'Ca')).toMatchObject({ value: null, text: 'no result: no uncertainty' });
    // The same sum, with fewer sources between its terms.
    expect(result(of, 'RS-02', 'Zr').standardUncertainty).toAgreeWithin(
      result(found, 'RS-02', 'Zr').standardUncertainty!,
      1e-14,
    );
  });
});

describe('a routine run', () => {
  it('gives every sample × analyte a result or a reason', () => {
    expect(found.results).toHaveLength(40 * 7);
    for (const r of found.results) {
      if (r.value === null) expect(r.flags.length).toBeGreaterThan(0);
      else expect(r.expandedUncertainty! / r.standardUncertainty!).toAgreeWithin(r.coverageFactor!, 1e-12);
    }
  });

  it.each([
    ['RS-07', 'Zr', 'melt not clear'],
    ['RS-12', 'Ca', 'residue in the solution'],
    ['RS-23', 'Ti', 'beyond the calibrated range'],
    ['RS-31', 'Fe', 'lines disagree'],
    ['RS-01', 'Ti', 'blank above the limit of quantification'],
    ['RS-40', 'Hf', 'drift beyond its limit'],
  ])('holds %s %s: %s', (sample, analyte, kind) => {
    const held = result(found, sample, analyte);
    expect(holding(held)).toContain(kind);
    expect(held.status).toBe('held');
    expect(held.conformity).toBeNull();
    expect(held.value).not.toBeNull();
  });

  it('has no value without the tare, remarks a missing density, and lets the others go on', () => {
    const lost = result(found, 'RS-19', 'Zr');
    expect(lost).toMatchObject({ status: 'no result', value: null, text: 'no result: missing tare' });
    expect(result(found, 'RS-15', 'Zr').flags.map((f) => f.kind)).toContain('missing density');
    expect(result(found, 'RS-15', 'Zr').status).toBe('reported');
    expect(result(found, 'RS-20', 'Zr').status).toBe('reported');
  });

  it('has no value in mg/L without the density of the solution that was read, and lets the others go on', () => {
    const perL = (x: number) => x * 1.012;
    const { plan } = records;
    const lacking = records.digestions.find((d) => d.sample === 'RS-02')!.digestion;
    const inVolume = {
      ...records,
      plan: {
        ...plan,
        calibration: { basis: 'mg/L' as const },
        density: measuredDensity,
        analytes: plan.analytes.map((a) => ({ ...a, signalFloorMgPerKg: perL(a.signalFloorMgPerKg) })),
      },
      digestions: records.digestions.map((d) => ({
        ...d,
        densityGPerML: d.digestion === lacking ? null : 1.012,
      })),
      calibration: records.calibration.map((c) => ({
        ...c,
        massFractionMgPerKg: null,
        concentrationMgPerL: perL(c.massFractionMgPerKg!),
        standardUncertainty: perL(c.standardUncertainty),
      })),
    };
    const byVolume = routineResults(inVolume, validation);
    const lost = result(byVolume, 'RS-02', 'Ca');
    expect(lost).toMatchObject({ status: 'no result', value: null, text: 'no result: missing density' });
    expect(lost.flags[0]!.text).toBe(
      `${lacking}: no density of the solution, so contents in mg/L cannot be brought to mass`,
    );
    // Zr was read in a dilution, whose density the plan states; only buoyancy takes that of the digestion.
    const diluted = result(byVolume, 'RS-02', 'Zr');
    expect(diluted.flags.find((f) => f.kind === 'missing density')!.holds).toBe(false);
    expect(diluted.value).toAgreeWithin(result(found, 'RS-02', 'Zr').value!, 1e-4);
    const other = result(byVolume, 'RS-20', 'Ca');
    expect(other.status).toBe(result(found, 'RS-20', 'Ca').status);
    expect(other.value).toAgreeWithin(result(found, 'RS-20', 'Ca').value!, 1e-4);
    // In a validation it stays an error.
    const { routine: _, ...validating } = inVolume.plan;
    const digestions = inVolume.digestions.filter((d) => d.vesselEmptyG !== null);
    const without = { ...inVolume, digestions, plan: validating };
    expect(() => evaluateStudy(without)).toThrow('expected its density in g/mL');
  });

  it('reports below the limit as such, never zero', () => {
    const low = result(found, 'RS-28', 'Ca');
    expect(low.status).toBe('below limit');
    expect(low.text).toMatch(/^< 150 \(estimate \d/);
    expect(low.value).toBeGreaterThan(0);
    // The estimate itself stands in the total.
    expect(found.totals.find((t) => t.sample === 'RS-28')!.belowLimit).toEqual(['Ca']);
  });

  it('states conformity with its rule, and rejects what lies outside', () => {
    const outside = result(found, 'RS-34', 'Pr').conformity!;
    expect(outside.accepted).toBe(false);
    expect(outside.statement).toContain('guarded acceptance with a risk of at most 5 %');
    expect(result(found, 'RS-05', 'Zr').conformity!.accepted).toBe(true);
    expect(result(found, 'RS-05', 'Si').conformity).toBeNull();
  });

  it('goes on where guard bands leave nothing of one specification: that result is not accepted', () => {
    const narrow = { analyte: 'Zr', lower: 62.5, upper: 62.6, unit: 'g/100 g' as const, document: 'order 1' };
    const routine = { ...records.plan.routine!, specifications: [narrow] };
    const { conformity } = result(
      routineResults({ ...records, plan: { ...records.plan, routine } }, validation),
      'RS-05',
      'Zr',
    );
    expect(conformity).toMatchObject({ accepted: false, acceptance: null });
    expect(conformity!.statement).toContain('so that no value is accepted');
  });

  it('gives the acceptance limits of each decision', () => {
    const { conformity, standardUncertainty, effectiveDegreesOfFreedom } = result(found, 'RS-05', 'Zr');
    const guard = coverageFactor(effectiveDegreesOfFreedom!, 0.9) * standardUncertainty!;
    expect(conformity!.acceptance!.lower!).toAgreeWithin(60 + guard, 1e-12);
    expect(conformity!.acceptance!.upper!).toAgreeWithin(65 - guard, 1e-12);
    expect(result(found, 'RS-05', 'Fe').conformity?.acceptance?.lower ?? null).toBeNull();
  });

  it('is not accepted, and says which controls failed', () => {
    expect(found.accepted).toBe(false);
    const failed = found.controls.filter((c) => !c.passed).map((c) => `${c.control} ${c.about}`);
    expect(failed).toEqual(expect.arrayContaining(['last check solution Hf', 'procedure blank Ti']));
    expect(found.controls.some((c) => c.control === 'duplicates of RS-05')).toBe(true);
  });

  it('is accepted as to its flux lot only where the validation used the same', () => {
    const lot = (results: RoutineResults) => results.controls.find((c) => c.control === 'flux lot')!;
    expect(lot(found).passed).toBe(true);
    const other = routineResults({ ...records, plan: { ...records.plan, fluxLot: 'LM-2301' } }, validation);
    expect(lot(other).passed).toBe(false);
  });

  it('gives totals and ratios the uncertainty of what their parts share', () => {
    const total = found.totals.find((t) => t.sample === 'RS-05')!;
    expect(total.standardUncertainty).toBeGreaterThan(total.standardUncertaintyApart);
    const [zr, si] = ['Zr', 'Si'].map((a) => result(found, 'RS-05', a).correlated!);
    const ratio = ratioOfResults('Zr to Si', '1', zr!, si!);
    const apart = Math.hypot(
      standardUncertaintyOf(zr!) / zr!.estimate,
      standardUncertaintyOf(si!) / si!.estimate,
    );
    expect(standardUncertaintyOf(ratio) / ratio.estimate).toBeLessThan(apart);
    expect(total.value).toAgreeWithin(
      found.results
        .filter((r) => r.sample === 'RS-05')
        .reduce((sum, r) => sum + r.value! * (r.unit === 'g/100 g' ? 1 : 1e-4), 0),
      1e-12,
    );
  });

  it('covers the truth of what it reports', () => {
    const reported = found.results.filter((r) => r.status === 'reported' && r.analyte !== 'Fe');
    const covered = reported.filter(
      (r) => Math.abs(r.value! - truth.massFractions[r.sample]![r.analyte]!) <= r.expandedUncertainty!,
    );
    // The results of one run share errors, so the share of one run scatters widely about 95 %.
    expect(covered.length / reported.length).toBeGreaterThan(0.75);
  });

  it('reads the same from a workbook', async () => {
    const folder = join(mkdtempSync(join(tmpdir(), 'meltbook-test-')), 'zircon-routine');
    await writeStudy(folder, records, { form: 'xlsx' });
    const again = routineResults(await readStudy(folder), validation);
    expect(again.results.map((r) => [r.value, r.text, r.flags])).toEqual(
      found.results.map((r) => [r.value, r.text, r.flags]),
    );
  });

  it('refuses a study that is no routine run, or rests on another validation', () => {
    const { routine: _, ...plan } = records.plan;
    expect(() => routineResults({ ...records, plan }, validation)).toThrow(InputError);
    const elsewhere = { ...records.plan, routine: { ...records.plan.routine!, validation: 'other' } };
    expect(() => routineResults({ ...records, plan: elsewhere }, validation)).toThrow(
      'found "zircon-pigment", expected "other"',
    );
  });
});
