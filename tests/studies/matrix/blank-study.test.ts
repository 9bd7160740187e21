import { describe, expect, it } from 'vitest';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { evaluateStudy } from '../../../src/studies/evaluate-study.js';
import { blankStudy } from '../../../src/studies/matrix/blank-study.js';
import { solidPerMg } from '../../../src/studies/matrix/matrix-context.js';
import { precisionStudy } from '../../../src/studies/matrix/precision-study.js';

const { records } = zirconPigmentStudy({ seed: 4 });

describe('limits where the blank is a line over the mass of flux', () => {
  const plan = { ...records.plan, blank: { scaling: 'per flux mass and digestion' as const } };
  // One blank a run: of runs with two the second is left out, so that the figures can be written out.
  const first = new Set<string>();
  const cause = { who: 'A', when: '2026-03-20', technicalCause: 'test' };
  const second = records.digestions.filter((d) => {
    if (d.sample !== records.plan.blanks.procedure) return false;
    const isSecond = first.has(d.day);
    first.add(d.day);
    return isSecond;
  });
  const exclusions = second.map((d) => ({ table: 'digestions' as const, rowKey: d.digestion, ...cause }));
  const study = evaluateStudy({ ...records, plan, exclusions: [...records.exclusions, ...exclusions] });
  const limits = blankStudy(study, precisionStudy(study)).find((l) => l.analyte === 'Fe')!;
  const { amounts } = study.blanks.get('Fe')!;

  it('rest on the line at the nominal mass of flux and on the scatter about it', () => {
    // Least squares written out, in mg and g, then brought to the solid.
    const n = amounts.length;
    const x = amounts.map((a) => a.fluxG);
    const y = amounts.map((a) => a.amountMg);
    const [xMean, yMean] = [x, y].map((v) => v.reduce((a, b) => a + b, 0) / n) as [number, number];
    const sxx = x.reduce((sum, v) => sum + (v - xMean) ** 2, 0);
    const slope = x.reduce((sum, v, i) => sum + (v - xMean) * (y[i]! - yMean), 0) / sxx;
    const squares = x.reduce((sum, v, i) => sum + (y[i]! - yMean - slope * (v - xMean)) ** 2, 0);
    const s = Math.sqrt(squares / (n - 2));
    const toSolid = solidPerMg(study, 'Fe');
    const share = 1 / n + (plan.nominal.fluxG - xMean) ** 2 / sxx;
    expect(limits.blank!.mean).toAgreeWithin((yMean + slope * (plan.nominal.fluxG - xMean)) * toSolid, 1e-10);
    expect(limits.blank!.spread).toMatchObject({ degreesOfFreedom: n - 2 });
    expect(limits.blank!.spread!.standardDeviation).toAgreeWithin(s * toSolid, 1e-10);
    // σ₀ = s·√(1 + share): with one blank a run the digestions of a result are taken to share what their blank is off by.
    expect(limits.blank!.runs).toBe(n);
    expect(limits.detection!.standardDeviationAtZero.inSolid).toAgreeWithin(
      s * toSolid * Math.sqrt(1 + share),
      1e-10,
    );
  });
});

describe('limits in the solid', () => {
  it('refer to the basis reported, as the results do', () => {
    // A portion as received that loses 12 g/100 g is 0.88 of its mass dry: 1 mg is 1/0.88 as much of it.
    const losing = (lossGPer100G: number) =>
      evaluateStudy({ ...records, moisture: records.moisture.map((m) => ({ ...m, lossGPer100G })) });
    const [wet, dry] = [losing(12), losing(0)];
    expect(solidPerMg(wet, 'Fe')).toAgreeWithin(solidPerMg(dry, 'Fe') / 0.88, 1e-12);
    const limitOf = (study: typeof wet) =>
      blankStudy(study, precisionStudy(study)).find((l) => l.analyte === 'Fe')!.detection!;
    expect(limitOf(wet).detectionLimit!.inSolid).toAgreeWithin(
      limitOf(dry).detectionLimit!.inSolid / 0.88,
      1e-10,
    );
  });
});

describe('target at the limit of quantification', () => {
  // Targets of 20 % at the low and 8 % at the high level, k = 2: LOQ = s₀/√(0.1² − s₁²) wherever the levels stand in the plan.
  const target = (level: string, limit: number) => ({
    ...{ characteristic: 'target uncertainty' as const, analyte: 'Ca', level, kind: 'at most' as const },
    ...{ limit, unit: '%', reason: 'test', owner: 'test' },
  });
  const criteria = [
    ...records.plan.criteria.filter((c) => c.characteristic !== 'target uncertainty'),
    target('low', 20),
    target('high', 8),
  ];

  it('is that of the level of lowest content, whatever the order of the levels', () => {
    const found = [records.plan.levels, [...records.plan.levels].reverse()].map((levels) => {
      const study = evaluateStudy({ ...records, plan: { ...records.plan, criteria, levels } });
      const precisions = precisionStudy(study);
      const own = precisions.filter((p) => p.analyte === 'Ca').map((p) => p.precision);
      const s1 = Math.max(...own.map((p) => p.overDays.value / p.components.mean));
      const { detection, quantification } = blankStudy(study, precisions).find((l) => l.analyte === 'Ca')!;
      expect(quantification!.value! / detection!.standardDeviationAtZero.inSolid).toAgreeWithin(
        1 / Math.sqrt(0.1 ** 2 - s1 ** 2),
        1e-10,
      );
      return quantification!.value;
    });
    expect(found[1]).toBe(found[0]);
  });
});
