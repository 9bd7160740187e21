import { describe, expect, it } from 'vitest';
import type { BlankLine } from '../../../src/chain/blank.js';
import type { StudyRecords } from '../../../src/records/study-records.js';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { type EvaluatedStudy, evaluateStudy } from '../../../src/studies/evaluate-study.js';
import { solidPerMg } from '../../../src/studies/matrix/matrix-context.js';
import { totalStudy } from '../../../src/studies/matrix/total-study.js';

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
    expect(found.standardUncertainty).toAgreeWithin(ofMean.standardUncertainty, 0.01);
  });

  it('holds the blanks with the uncertainty of their line at the mass of flux', () => {
    const exact = (blank: BlankLine): BlankLine => ({
      ...blank,
      variancePerFluxMass: 0,
      variancePerDigestion: 0,
      covariance: 0,
    });
    const known = totalStudy({
      ...line,
      results: line.results.map((r) => ({
        ...r,
        observation: { ...r.observation, blank: exact(r.observation.blank as BlankLine) },
      })),
    })[0]!;
    const totals = totalsOf(line).sort((a, b) => a.value - b.value);
    const middle = totals[Math.floor((totals.length - 1) / 2)]!.digestion;
    const row = records.digestions.find((d) => d.digestion === middle)!;
    const loss = records.moisture.find((m) => m.sample === sample)!.lossGPer100G / 100;
    const dry = (row.crucibleWithPortionG! - row.crucibleG!) * (1 - loss);
    const variances = oxides.map(({ analyte, unit }) => {
      // Least squares written out, in mg and g.
      const { amounts } = line.blanks.get(analyte)!;
      const n = amounts.length;
      const [x, y] = [amounts.map((a) => a.fluxG), amounts.map((a) => a.amountMg)];
      const [xMean, yMean] = [x, y].map((v) => v.reduce((a, b) => a + b, 0) / n) as [number, number];
      const sxx = x.reduce((sum, v) => sum + (v - xMean) ** 2, 0);
      const slope = x.reduce((sum, v, i) => sum + (v - xMean) * (y[i]! - yMean), 0) / sxx;
      const squares = x.reduce((sum, v, i) => sum + (y[i]! - yMean - slope * (v - xMean)) ** 2, 0);
      const ofLine = (squares / (n - 2)) * (1 / n + (row.fluxG! - xMean) ** 2 / sxx);
      const toSolid = (solidPerMg(line, analyte) * records.plan.nominal.portionG * perUnit[unit]) / dry;
      return ofLine * toSolid ** 2;
    });
    // Buoyancy of the portion, and stock errors of the blank itself, stand below 1 %.
    expect(found.standardUncertainty ** 2 - known.standardUncertainty ** 2).toAgreeWithin(
      variances.reduce((sum, v) => sum + v, 0),
      0.01,
    );
  });
});
