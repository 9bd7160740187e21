import { beforeAll, describe, expect, it } from 'vitest';
import type { StudyRecords } from '../../../src/records/study-records.js';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { evaluateStudy } from '../../../src/studies/evaluate-study.js';
import { homogeneityStudy } from '../../../src/studies/matrix/homogeneity-study.js';
import { validateMatrix } from '../../../src/studies/matrix/validate-matrix.js';

let records: StudyRecords;

beforeAll(() => {
  records = zirconPigmentStudy({ seed: 20260302 }).records;
});

const studied = (changed: Partial<StudyRecords> = {}) =>
  homogeneityStudy(evaluateStudy({ ...records, ...changed }));

describe('homogeneity from the table of portions', () => {
  it('finds the planted sample homogeneous enough, from ten containers of two portions', () => {
    const found = studied();
    expect(found.map((h) => [h.analyte, h.homogeneity.finding.verdict])).toEqual([
      ['Zr', 'met'],
      ['Fe', 'met'],
      ['Ca', 'met'],
    ]);
    const [zirconium] = found;
    expect(zirconium!.homogeneity.finding.n).toBe(10);
    expect(zirconium!.homogeneity.finding.rows[0]).toMatchObject({ table: 'homogeneity' });
    expect(zirconium!.homogeneity.finding.rows[0]!.keys).toHaveLength(20);
    expect(zirconium!.checks!.passes).toBe(true);
  });

  it('finds containers that differ, and asks for a larger portion', () => {
    const homogeneity = records.homogeneity.map((r) => ({
      ...r,
      value: r.value * (1 + 0.03 * Math.cos(Number(r.container.slice(-2)))),
    }));
    const [zirconium] = studied({ homogeneity });
    const { finding, betweenUnits, limits, analysis } = zirconium!.homogeneity;
    expect(finding.verdict).toBe('not met');
    expect(zirconium!.checks!.passes).toBe(false);
    const portion = zirconium!.minimumPortion!;
    const relative = (s: number) => s / analysis.grandMean / 0.01;
    expect(portion.minimumG).toAgreeWithin(zirconium!.portionG * relative(betweenUnits) ** 2, 1e-9);
    expect(portion.safeMinimumG).toAgreeWithin(
      zirconium!.portionG * relative(limits.upperOneSided) ** 2,
      1e-9,
    );
  });

  it('has no portion to give without a relative criterion, and is not studied without duplicates', () => {
    const { plan } = records;
    const criteria = plan.criteria.filter((c) => c.characteristic !== 'homogeneity');
    const [zirconium] = studied({ plan: { ...plan, criteria } });
    expect([zirconium!.minimumPortion, zirconium!.checks]).toEqual([null, null]);
    expect(zirconium!.homogeneity.finding.verdict).toBe('no criterion');
    const single = { ...records, homogeneity: records.homogeneity.filter((r) => r.portion === 1) };
    const finding = validateMatrix(single).findings.find((f) => f.characteristic === 'homogeneity')!;
    expect(finding.verdict).toBe('not studied');
    expect(finding.reason).toContain('duplicate');
  });

  it('leaves out an excluded portion', () => {
    const exclusions = [
      ...records.exclusions,
      ...[{ table: 'homogeneity', rowKey: 'ZP-2|ZP-2/03|1|Zr', who: 'A', when: '2026-03-20' }].map((e) => ({
        ...e,
        technicalCause: 'spilled',
      })),
    ];
    const [zirconium, iron] = studied({ exclusions });
    expect(zirconium!.rows).toHaveLength(19);
    expect(iron!.rows).toHaveLength(20);
  });
});
