import { beforeAll, describe, expect, it } from 'vitest';
import type { StudyRecords } from '../../src/records/study-records.js';
import { validationReport } from '../../src/report/dossier/validation-report.js';
import { renderJson } from '../../src/report/render-json.js';
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

describe('an uncertainty raised by 10 % in the records', () => {
  const budget = (v: MatrixValidation, analyte: string) =>
    v.budgets.find((b) => b.analyte === analyte && b.level === 'middle')!.components;
  const raise = (
    table: 'standards',
    pick: (row: StudyRecords['standards'][number]) => boolean,
  ): StudyRecords => ({
    ...records,
    [table]: records[table].map((row) =>
      pick(row) ? { ...row, expandedUncertainty: row.expandedUncertainty * 1.1 } : row,
    ),
  });

  it.each([
    [
      'certificate of the zirconium stock',
      'Zr',
      (name: string) => name.startsWith('std_'),
      () => raise('standards', (row) => row.analyte === 'Zr' && row.name !== records.plan.driftCheckSolution),
    ],
    [
      'moisture of the sample',
      'Zr',
      (name: string) => name === 'loss',
      () => ({
        ...records,
        moisture: records.moisture.map((m) => ({
          ...m,
          standardUncertaintyGPer100G: m.standardUncertaintyGPer100G * 1.1,
        })),
      }),
    ],
    [
      'density and uptake match',
      'Pr',
      (name: string) => name === 'match',
      () => ({
        ...records,
        plan: {
          ...records.plan,
          statedInputs: records.plan.statedInputs.map((s) =>
            s.name === 'density and uptake match'
              ? { ...s, standardUncertainty: s.standardUncertainty * 1.1 }
              : s,
          ),
        },
      }),
    ],
    [
      'interference coefficient on hafnium',
      'Hf',
      (name: string) => name === 'K_Hf_Zr',
      () => ({
        ...records,
        interference: records.interference.map((k) => ({
          ...k,
          standardUncertainty: k.standardUncertainty * 1.1,
        })),
      }),
    ],
  ] as const)('(%s) moves budget and JSON by what its share predicts', (_, analyte, isInput, change) => {
    const before = budget(validation, analyte);
    const share = before.lines.filter((l) => isInput(l.input.name)).reduce((sum, l) => sum + l.share, 0);
    expect(share).toBeGreaterThan(1e-6);
    const changed = validateMatrix(change());
    const after = budget(changed, analyte);
    expect(after.estimate).toBe(before.estimate);
    expect(after.standardUncertainty).toAgreeWithin(
      before.standardUncertainty * Math.sqrt(1 + 0.21 * share),
      1e-9,
    );
    const untouched = after.lines.filter((l) => !isInput(l.input.name));
    expect(untouched.map((l) => l.contribution)).toEqual(
      before.lines.filter((l) => !isInput(l.input.name)).map((l) => l.contribution),
    );
    const provenance = {
      issue: '',
      created: '2026-01-01T00:00:00Z',
      versions: {},
      seed: null,
      parameters: {},
      notes: [],
    };
    const json = JSON.parse(
      renderJson(validationReport(changed, { files: [], selfCheck: [], provenance })),
    ) as {
      data: { budgets: { analyte: string; level: string; components: { standardUncertainty: number } }[] };
    };
    const told = json.data.budgets.find((b) => b.analyte === analyte && b.level === 'middle')!;
    expect(told.components.standardUncertainty).toBe(after.standardUncertainty);
  });
});
