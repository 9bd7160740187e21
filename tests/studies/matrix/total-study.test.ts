import { describe, expect, it } from 'vitest';
import type { BlankLine } from '../../../src/chain/blank.js';
import type { SolidState } from '../../../src/chain/mass-on-basis.js';
import type { StudyRecords } from '../../../src/records/study-records.js';
import type { MoistureRecord } from '../../../src/records/tables/moisture.js';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { type EvaluatedStudy, evaluateStudy } from '../../../src/studies/evaluate-study.js';
import { totalStudy } from '../../../src/studies/matrix/total-study.js';
import type { TotalOfOxides } from '../../../src/validation/acceptance/total-of-oxides.js';

const { records } = zirconPigmentStudy({ seed: 4 });
const oxides = records.plan.analytes.filter(({ oxide }) => oxide !== undefined);
const sample = 'ZP-1';
const perUnit = { 'mg/kg': 1e-4, 'g/100 g': 1 } as const;

/** Totals of the digestions of the low level, g/100 g. */
function totalsOf({ results, index }: EvaluatedStudy) {
  const rows = index.records.digestions.filter((d) => d.kind === 'sample' && d.sample === sample);
  return rows.map(({ digestion, day }) => {
    const own = oxides.map(({ analyte, unit }) => {
      const value = results.find((r) => r.digestion === digestion && r.analyte === analyte)?.value;
      return (value ?? Number.NaN) * perUnit[unit];
    });
    return { digestion, day, value: own.reduce((sum, value) => sum + value, 0) };
  });
}

const withPlan = (plan: Partial<StudyRecords['plan']>): StudyRecords => ({
  ...records,
  plan: { ...records.plan, ...plan },
});
const scaled = (scaling: BlankLine['scaling'] | 'per flux mass') =>
  evaluateStudy(withPlan({ blank: { ...records.plan.blank, scaling } }));

describe('the uncertainty of a total of oxides', () => {
  const line = scaled('per flux mass and digestion');
  const found = totalStudy(line)[0]!;

  it('keeps the covariance of the two coefficients of a blank', () => {
    // Blanks and samples are made with about 2 g of flux: there the line is about as well known as the mean blank.
    const ofMean = totalStudy(scaled('per flux mass'))[0]!;
    expect(found.standardUncertainty!).toAgreeWithin(ofMean.standardUncertainty!, 0.01);
  });

  it('holds the blanks with the uncertainty of their line at the mass of flux', () => {
    // The scatter as observed: what calibrations and readings explain of it is tests/chain/blank-counted-once.
    const asObserved = ({ explained: _, ...blank }: BlankLine): BlankLine => blank;
    const exact = (blank: BlankLine): BlankLine => ({
      ...asObserved(blank),
      variancePerFluxMass: 0,
      variancePerDigestion: 0,
      covariance: 0,
    });
    const [all, known] = [asObserved, exact].map(
      (change) =>
        totalStudy({
          ...line,
          results: line.results.map((r) => ({
            ...r,
            observation: { ...r.observation, blank: change(r.observation.blank as BlankLine) },
          })),
        })[0]!,
    ) as [TotalOfOxides, TotalOfOxides];
    const totals = totalsOf(line).sort((a, b) => a.value - b.value);
    const middle = totals[Math.floor((totals.length - 1) / 2)]!.digestion;
    const row = records.digestions.find((d) => d.digestion === middle)!;
    const loss = records.moisture.find((m) => m.sample === sample)!.lossGPer100G / 100;
    const dry = (row.crucibleWithPortionG! - row.crucibleG!) * (1 - loss);
    const variances = oxides.map(({ analyte }) => {
      // Least squares written out, in mg and g.
      const { amounts } = line.blanks.get(analyte)!;
      const n = amounts.length;
      const [x, y] = [amounts.map((a) => a.fluxG), amounts.map((a) => a.amountMg)];
      const [xMean, yMean] = [x, y].map((v) => v.reduce((a, b) => a + b, 0) / n) as [number, number];
      const sxx = x.reduce((sum, v) => sum + (v - xMean) ** 2, 0);
      const slope = x.reduce((sum, v, i) => sum + (v - xMean) * (y[i]! - yMean), 0) / sxx;
      const squares = x.reduce((sum, v, i) => sum + (y[i]! - yMean - slope * (v - xMean)) ** 2, 0);
      const ofLine = (squares / (n - 2)) * (1 / n + (row.fluxG! - xMean) ** 2 / sxx);
      const { oxide } = line.results.find((r) => r.analyte === analyte)!.observation.basis;
      // 1 mg in 1 g are 0.1 g in 100 g.
      const toSolid = (0.1 * oxide!.factor) / dry;
      return ofLine * toSolid ** 2;
    });
    // Buoyancy of the portion, and stock errors of the blank itself, stand below 1 %.
    expect(all.standardUncertainty! ** 2 - known.standardUncertainty! ** 2).toAgreeWithin(
      variances.reduce((sum, v) => sum + v, 0),
      0.01,
    );
  });
});

describe('the digestions of a total of oxides', () => {
  const study = evaluateStudy(records);
  const totals = totalsOf(study);
  const days = [...new Set(totals.map(({ day }) => day))];
  const keeping = (isKept: (digestion: string, analyte: string) => boolean): EvaluatedStudy => ({
    ...study,
    results: study.results.filter((r) => r.sample !== sample || isKept(r.digestion, r.analyte)),
  });
  const ofDays = (n: number) => {
    const kept = new Set(totals.filter(({ day }) => days.slice(0, n).includes(day)).map((t) => t.digestion));
    return totalStudy(keeping((digestion) => kept.has(digestion)))[0]!;
  };

  it('show nothing of one day, whose scatter over days is not known', () => {
    const { finding, standardUncertainty } = ofDays(1);
    expect(finding).toMatchObject({ verdict: 'not shown', limits: null, degreesOfFreedom: null });
    expect(finding.reason).toContain('Found 1 day(s); at least 5 days are needed');
    expect(standardUncertainty).toBeNull();
  });

  it('show nothing of four days, and decide from five on', () => {
    expect(ofDays(4).finding.verdict).toBe('not shown');
    expect(ofDays(5).finding.verdict).toBe('met');
  });

  it('are the complete ones, for the estimate as for its uncertainty', () => {
    const dropped = new Set(totals.slice(0, 12).map(({ digestion }) => digestion));
    const { finding, total, contributions } = totalStudy(
      keeping((digestion, analyte) => analyte !== 'Zr' || !dropped.has(digestion)),
    )[0]!;
    const complete = totals.filter(({ digestion }) => !dropped.has(digestion));
    const ofDay = [...new Set(complete.map(({ day }) => day))].map((day) => {
      const values = complete.filter((t) => t.day === day).map(({ value }) => value);
      return values.reduce((sum, value) => sum + value, 0) / values.length;
    });
    const mean = ofDay.reduce((sum, value) => sum + value, 0) / ofDay.length;
    expect(total).toAgreeWithin(mean, 1e-12);
    expect(contributions.reduce((sum, c) => sum + c.massFraction, 0)).toAgreeWithin(mean, 1e-12);
    expect(finding.n).toBe(complete.length);
    expect(finding.notes).toContain(
      `ZP-1: mean over ${ofDay.length} days of ${complete.length} digestions with a result of every oxide; 12 others left out for want of ZrO2.`,
    );
  });

  it('name what is reported as the element', () => {
    const analytes = records.plan.analytes.map(({ oxide, ...scope }) =>
      scope.analyte === 'Fe' || oxide === undefined ? scope : { ...scope, oxide },
    );
    const { finding } = totalStudy(evaluateStudy(withPlan({ analytes })))[0]!;
    expect(finding.notes).toContain('Reported as the element and so not in the total of oxides: Fe.');
  });
});

describe('the losses of mass in a total of oxides', () => {
  const ignition: MoistureRecord = {
    sample,
    lossGPer100G: 5,
    basis: 'dry to ignited',
    standardUncertaintyGPer100G: 0.3,
  };
  /** Portions are weighed in the state reported, so that no result holds a loss. */
  const totalWith = (basis: SolidState, moisture: readonly MoistureRecord[], weighed = basis) =>
    totalStudy(evaluateStudy({ ...withPlan({ basis, portionsWeighed: weighed }), moisture }))[0]!;
  const { moisture } = records;
  const drying = moisture.find((m) => m.sample === sample)!;

  it('are the loss on ignition with its uncertainty on the dry basis', () => {
    const without = totalWith('dry', moisture);
    const found = totalWith('dry', [...moisture, ignition]);
    expect(found.total - without.total).toAgreeWithin(5, 1e-12);
    expect(found.standardUncertainty!).toAgreeWithin(Math.hypot(without.standardUncertainty!, 0.3), 1e-12);
    expect(found.finding.quantity).toBe('total of oxides and loss on ignition');
    expect(found.contributions.at(-1)).toEqual({ name: 'loss on ignition', massFraction: 5 });
    expect(without.finding.quantity).toBe('total of oxides');
    expect(without.finding.notes).toContain(
      'Not in the total of ZP-1: loss on ignition, which is not recorded.',
    );
  });

  it('are none on the ignited basis', () => {
    const { finding, total, contributions } = totalWith('ignited', [ignition]);
    expect(finding.quantity).toBe('total of oxides');
    expect(contributions.map(({ name }) => name)).toEqual(oxides.map(({ oxide }) => oxide));
    expect(total).toAgreeWithin(
      contributions.reduce((sum, c) => sum + c.massFraction, 0),
      1e-12,
    );
    expect(finding.notes.join(' ')).not.toContain('oss on ignition');
  });

  it('are moisture and the loss of what is dry as received', () => {
    const without = totalWith('as received', []);
    const found = totalWith('as received', [drying, ignition]);
    // M + L·(1 − M), with ∂/∂M = 1 − L and ∂/∂L = 1 − M.
    const moist = drying.lossGPer100G / 100;
    expect(found.total - without.total).toAgreeWithin(drying.lossGPer100G + 5 * (1 - moist), 1e-11);
    const u = Math.hypot((1 - 0.05) * drying.standardUncertaintyGPer100G, (1 - moist) * 0.3);
    expect(found.standardUncertainty!).toAgreeWithin(Math.hypot(without.standardUncertainty!, u), 1e-12);
    expect(found.finding.quantity).toBe('total of oxides, moisture and loss on ignition');
    expect(without.finding.notes).toContain(
      'Not in the total of ZP-1: moisture and loss on ignition, which are not recorded.',
    );
  });

  it('are one quantity with the loss that brings ignited portions to the dry basis', () => {
    const samples = [...new Set(records.digestions.map((d) => d.sample))];
    const ignitions = samples.map((each) => ({ ...ignition, sample: each }));
    const exact = ignitions.map((each) => ({ ...each, standardUncertaintyGPer100G: 0 }));
    const without = totalWith('dry', exact, 'ignited');
    const found = totalWith('dry', ignitions, 'ignited');
    // Σ w_ign·(1 − L) + 100·L, with ∂/∂L = 1 − Σ w_ign/100: most of what an error of L does to the oxides it does to itself.
    const ofIgnited = (without.total - 5) / 0.95;
    expect(found.total).toAgreeWithin(without.total, 1e-12);
    // Worked out at the digestion in the middle, whose total is not quite the mean.
    const u = Math.abs(1 - ofIgnited / 100) * 0.3;
    expect(found.standardUncertainty!).toAgreeWithin(Math.hypot(without.standardUncertainty!, u), 1e-6);
  });

  it('are negative where the sample gains on ignition', () => {
    const without = totalWith('dry', moisture);
    const found = totalWith('dry', [...moisture, { ...ignition, lossGPer100G: -0.2 }]);
    expect(found.total - without.total).toAgreeWithin(-0.2, 1e-10);
  });

  it('are not guessed as received where the moisture is not recorded', () => {
    const found = totalWith('as received', [ignition]);
    expect(found.finding.quantity).toBe('total of oxides');
    expect(found.finding.notes.join(' ')).toContain(
      'moisture, which is not recorded, and loss on ignition, which is recorded of the dry sample only',
    );
    const moistOnly = totalWith('as received', [drying]);
    expect(moistOnly.finding.quantity).toBe('total of oxides and moisture');
  });
});
