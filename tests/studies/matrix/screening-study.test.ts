import { beforeAll, describe, expect, it } from 'vitest';
import type { StudyRecords } from '../../../src/records/study-records.js';
import { exclusionBlocks, screeningBlocks } from '../../../src/report/dossier/screening-blocks.js';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { exclusionEffects } from '../../../src/studies/matrix/exclusion-effects.js';
import { screeningStudy } from '../../../src/studies/matrix/screening-study.js';
import { type MatrixValidation, validateMatrix } from '../../../src/studies/matrix/validate-matrix.js';
import { screeningTests } from '../../../src/validation/precision/screening-tests.js';

let records: StudyRecords;
let whole: MatrixValidation;

beforeAll(() => {
  records = zirconPigmentStudy({ seed: 20260302 }).records;
  whole = validateMatrix(records);
});

/** The study with titanium of one digestion read too high. */
function spoilt(factor: number): { validation: MatrixValidation; digestion: string } {
  const digestion = whole.precision.find((p) => p.analyte === 'Ti' && p.level === 'middle')!.rows[3]!.key;
  const readings = records.readings.map((r) =>
    r.solution === digestion && r.analyte === 'Ti' ? { ...r, intensity: r.intensity * factor } : r,
  );
  return { validation: validateMatrix({ ...records, readings }), digestion };
}

describe('screening of digestions', () => {
  it('flags a digestion that was read too high, keeps it, and shows precision without it', () => {
    const { validation, digestion } = spoilt(1.08);
    const found = screeningStudy(validation).find(
      (s) => s.level.analyte === 'Ti' && s.level.level === 'middle',
    )!;
    expect(found.flagged).toContain(digestion);
    expect(found.level.rows.map((r) => r.key)).toContain(digestion);
    expect(found.tests.cochran!.outlying).toBe(true);
    const { repeatability } = found.level.precision;
    expect(found.without!.repeatability.estimate!).toBeLessThan(0.5 * repeatability.estimate!);
    expect(repeatability.n).toBe(20);
    expect(JSON.stringify(screeningBlocks(screeningStudy(validation)))).toContain(digestion);
  });

  it('puts all tests beside each other for every level', () => {
    const found = screeningStudy(whole);
    expect(found).toHaveLength(24);
    for (const { tests } of found) {
      expect(tests.consistency!.h).toHaveLength(10);
      expect(tests.severalMeans!.n).toBe(10);
      // Grubbs' statistic is the largest |h| where all days hold equally many digestions.
      const largest = Math.max(...tests.consistency!.h.map(Math.abs));
      expect(tests.grubbs!.statistic).toAgreeWithin(largest, 1e-9);
    }
  });

  it('leaves out tests for which there are too few days', () => {
    const rows = ['1', '1', '2'].map((day, i) => ({ key: `${i}`, day, value: 10 + i }));
    const { cochran, grubbs, consistency, severalMeans, flags } = screeningTests(rows);
    expect([cochran, grubbs, consistency, severalMeans, flags]).toEqual([null, null, null, null, []]);
  });
});

describe('results with and without each exclusion', () => {
  it('puts the rows of one cause back together and lists what changes', () => {
    const [effect, ...others] = exclusionEffects(records, whole);
    expect(others).toEqual([]);
    expect(effect!.rows).toHaveLength(8);
    const blank = effect!.changed.find((c) => c.without.id === 'procedure-blank/Ca/blank')!;
    expect([blank.without.n, blank.withRows.n]).toEqual([4, 12]);
    expect([blank.without.verdict, blank.withRows.verdict]).toEqual(['not shown', 'not met']);
    expect(new Set(effect!.changed.map((c) => c.without.analyte))).not.toContain('Fe');
  });

  it('says nothing where nothing was excluded', () => {
    const bare = { ...records, exclusions: [] };
    expect(exclusionBlocks(validateMatrix(bare))).toEqual([]);
  });
});
