import { beforeAll, describe, expect, it } from 'vitest';
import type { StudyRecords } from '../../../src/records/study-records.js';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { evaluateStudy } from '../../../src/studies/evaluate-study.js';
import {
  interferenceStudy,
  nativeStudy,
  secondLineStudy,
} from '../../../src/studies/matrix/selectivity-study.js';

let records: StudyRecords;
beforeAll(() => {
  records = zirconPigmentStudy({ seed: 20260302 }).records;
});

describe('native internal standard', () => {
  it('judges each digestion named in the plan by its own readings without internal standard', () => {
    const findings = nativeStudy(evaluateStudy(records));
    const { nativeCheckDigestions } = records.plan;
    expect(findings.map((f) => f.rows[0]!.keys[0])).toEqual(nativeCheckDigestions);
    expect(findings.map((f) => [f.level, f.verdict])).toEqual([
      ['ZP-1', 'met'],
      ['ZP-2', 'met'],
      ['ZP-3', 'met'],
      ['ZP-4', 'not met'],
    ]);
    expect(findings.every((f) => f.n === 1)).toBe(true);
  });

  it('finds as share of the dose what a solution of known content reads', () => {
    const standard = records.calibration
      .filter((c) => c.run === 'R-11')
      .sort((a, b) => b.massFractionMgPerKg! - a.massFractionMgPerKg!)[0]!;
    const intensities = records.readings.filter((r) => r.run === 'R-11' && r.solution === standard.solution);
    const [digestion] = records.plan.nativeCheckDigestions;
    const readings = records.readings.map((r) =>
      r.run === 'R-11' && r.solution === digestion
        ? { ...r, intensity: intensities.find((i) => i.repeat === r.repeat)!.intensity }
        : r,
    );
    const [found] = nativeStudy(evaluateStudy({ ...records, readings }));
    const expected = (100 * standard.massFractionMgPerKg!) / records.plan.internalStandard.doseMgPerKg;
    // A standard lies off its own calibration by the noise of its three readings, 0.4 % each.
    expect(found!.estimate!).toAgreeWithin(expected, 0.01);
  });

  it('leaves out an excluded digestion', () => {
    const [rowKey] = records.plan.nativeCheckDigestions;
    const exclusion = { table: 'digestions', rowKey: rowKey!, who: 'A', when: '2026-03-20' };
    const exclusions = [...records.exclusions, { ...exclusion, technicalCause: 'spilled' }];
    const left = nativeStudy(evaluateStudy({ ...records, exclusions }));
    expect(left.map((f) => f.level)).toEqual(['ZP-2', 'ZP-3', 'ZP-4']);
  });
});

describe('second lines', () => {
  it('of the analytes that have one agree to the last bit where both lines read the same', () => {
    const study = evaluateStudy(records);
    const lines = secondLineStudy(study);
    const planned = records.plan.analytes.filter((a) => a.secondLineNm !== undefined);
    expect(lines.map((l) => l.finding.analyte)).toEqual(planned.map((a) => a.analyte));
    const zirconium = planned.find((a) => a.analyte === 'Zr')!;
    const place = (r: { run: string; position: number; repeat: number }) =>
      `${r.run}|${r.position}|${r.repeat}`;
    const own = new Map(
      records.readings.filter((r) => r.lineNm === zirconium.lineNm).map((r) => [place(r), r.intensity]),
    );
    const readings = records.readings.map((r) =>
      r.lineNm === zirconium.secondLineNm ? { ...r, intensity: own.get(place(r))! } : r,
    );
    const copied = secondLineStudy(evaluateStudy({ ...records, readings }));
    const { differences, finding } = copied.find((l) => l.finding.analyte === 'Zr')!;
    expect(differences.length).toBe(60);
    expect(differences.every((d) => d.value === 0)).toBe(true);
    // Copied readings leave no scatter of the differences: they show no agreement of two measurements.
    expect(finding).toMatchObject({ verdict: 'not shown', estimate: 0 });
    expect(finding.reason).toContain('do not scatter at all');
  });
});

describe('interference check', () => {
  it('takes off what the table of interferences corrects, and judges what is left', () => {
    const corrected = interferenceStudy(evaluateStudy(records)).find((i) => i.finding.analyte === 'Hf')!;
    expect(corrected.finding.verdict).toBe('met');
    const bare = evaluateStudy({ ...records, interference: [] });
    const uncorrected = interferenceStudy(bare).find((i) => i.finding.analyte === 'Hf')!;
    const { apparentPerUnit } = records.interference.find((k) => k.analyte === 'Hf')!;
    expect(uncorrected.coefficient - corrected.coefficient).toAgreeWithin(apparentPerUnit, 1e-9);
  });

  it('is judged at the level of the lowest content, in whatever order the plan names the levels', () => {
    const { plan } = records;
    const reversed = { ...records, plan: { ...plan, levels: [...plan.levels].reverse() } };
    const found = (changed: StudyRecords) => interferenceStudy(evaluateStudy(changed)).map((i) => i.finding);
    expect(found(reversed)).toEqual(found(records));
  });

  it('finds the planted overlap of zirconium on aluminium, and none once it is switched off', () => {
    const found = (changed: StudyRecords) =>
      interferenceStudy(evaluateStudy(changed)).find((i) => i.finding.analyte === 'Al')!;
    const planted = found(records);
    expect(planted.finding.verdict).toBe('not met');
    expect(planted.coefficientLimits!.low).toBeLessThan(5e-4);
    expect(planted.coefficientLimits!.high).toBeGreaterThan(4.9e-4);
    expect(found(zirconPigmentStudy({ seed: 20260302, overlap: false }).records).finding.verdict).toBe('met');
  });
});
