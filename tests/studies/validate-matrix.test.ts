import { beforeAll, describe, expect, it } from 'vitest';
import type { StudyRecords } from '../../src/records/study-records.js';
import { expectedVerdictOf } from '../../src/scenario/expected-verdicts.js';
import { zirconPigmentStudy } from '../../src/scenario/zircon-pigment-study.js';
import { type MatrixValidation, validateMatrix } from '../../src/studies/matrix/validate-matrix.js';

// The invented study: what is checked here is that planted truths are found, never that a method gives an invented value.
const seed = 20260302;
let records: StudyRecords;
let validation: MatrixValidation;

beforeAll(() => {
  records = zirconPigmentStudy({ seed }).records;
  validation = validateMatrix(records);
});

const verdicts = (v: MatrixValidation) => Object.fromEntries(v.findings.map((f) => [f.id, f.verdict]));

describe('validation of a matrix', () => {
  it('finds every verdict that was planted', () => {
    const { truth } = zirconPigmentStudy({ seed });
    const judged = validation.findings.filter((f) => f.criterion !== null);
    expect(judged.length).toBeGreaterThan(150);
    for (const finding of judged) {
      expect(finding.verdict, finding.id).toBe(expectedVerdictOf(truth.expectedVerdicts, finding));
    }
  });

  it('meets the trueness of aluminium once the overlap is switched off', () => {
    const found = verdicts(validateMatrix(zirconPigmentStudy({ seed, overlap: false }).records));
    expect([found['trueness/Al/QRM-1'], found['trueness/Al/QRM-2']]).toEqual(['met', 'met']);
    expect(found['target-uncertainty/Al/low']).toBe('met');
  });

  it('decides the limits of calcium once twelve blanks are usable', () => {
    const found = verdicts(validateMatrix(zirconPigmentStudy({ seed, calciumBlanksUsable: 12 }).records));
    expect([found['limit-of-quantification/Ca/blank'], found['procedure-blank/Ca/blank']]).toEqual([
      'met',
      'met',
    ]);
  });

  it('bases the blank of calcium on the four digestions that are not excluded', () => {
    const calcium = validation.limits.find((l) => l.analyte === 'Ca')!;
    expect(calcium.rows.length).toBe(4);
    expect(calcium.excluded.length).toBe(8);
    expect(calcium.rows.some((row) => calcium.excluded.includes(row.key))).toBe(false);
  });

  it('reports a criterion without data as not studied, and says what is missing', () => {
    const without = validateMatrix({ ...records, references: [], spikes: [] });
    const trueness = without.findings.filter((f) => f.characteristic === 'trueness');
    expect(new Set(trueness.map((f) => f.verdict))).toEqual(new Set(['not studied']));
    expect(trueness[0]!.reason.toLowerCase()).toContain('no reference material');
  });

  it('takes one excluded analyte of a digestion out of that analyte alone', () => {
    const [first] = validation.precision.find((p) => p.analyte === 'Ti' && p.level === 'low')!.rows;
    const cause = { who: 'A', when: '2026-03-20', technicalCause: 'spilled' };
    const exclusions = [...records.exclusions, { table: 'digestions', rowKey: `${first!.key}|Ti`, ...cause }];
    const without = validateMatrix({ ...records, exclusions });
    const keys = (analyte: string) =>
      without.precision.find((p) => p.analyte === analyte && p.level === 'low')!.rows.map((r) => r.key);
    expect(keys('Ti')).not.toContain(first!.key);
    expect(keys('Fe')).toContain(first!.key);
    expect(
      without.precision.find((p) => p.analyte === 'Ti' && p.level === 'low')!.precision.components.balanced,
    ).toBe(false);
  });
});
