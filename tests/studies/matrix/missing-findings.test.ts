import { beforeAll, describe, expect, it } from 'vitest';
import type { PlannedCriterion } from '../../../src/records/study.js';
import type { StudyRecords } from '../../../src/records/study-records.js';
import { validationReport } from '../../../src/report/dossier/validation-report.js';
import { renderHtml } from '../../../src/report/render-html.js';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { type MatrixValidation, validateMatrix } from '../../../src/studies/matrix/validate-matrix.js';

let records: StudyRecords;
let whole: MatrixValidation;

beforeAll(() => {
  records = zirconPigmentStudy({ seed: 20260302 }).records;
  whole = validateMatrix(records);
});

const unstudied = (validation: MatrixValidation) =>
  validation.findings.filter((f) => f.verdict === 'not studied');
const characteristicsOf = (validation: MatrixValidation) =>
  [...new Set(unstudied(validation).map((f) => f.characteristic))].sort();
const withoutSolutions = (solutions: readonly string[]) => {
  const left = new Set(solutions);
  return { ...records, readings: records.readings.filter((r) => !left.has(r.solution)) };
};

describe('a criterion without data is not studied', () => {
  it.each<[string, () => StudyRecords, string[], string]>([
    ['references', () => ({ ...records, references: [] }), ['trueness'], 'no reference material'],
    [
      'spikes',
      () => ({ ...records, spikes: [] }),
      ['recovery after dissolution', 'recovery before fusion'],
      'no addition',
    ],
    [
      'check solutions',
      () => withoutSolutions([records.plan.driftCheckSolution]),
      ['check solution', 'second-source standard'],
      'no check solution',
    ],
    [
      'the solution of the interferent',
      () => withoutSolutions([records.plan.interferenceCheck!.solution]),
      ['interference check'],
      'no solution of the interferent alone',
    ],
    [
      'the readings without internal standard',
      () => ({
        ...records,
        readings: records.readings.filter((r) => r.internalStandardIntensity !== null),
      }),
      ['native internal standard'],
      'no digestion was read without internal standard',
    ],
    [
      'readings of second lines',
      () => {
        const second = new Set(records.plan.analytes.map((a) => a.secondLineNm));
        return { ...records, readings: records.readings.filter((r) => !second.has(r.lineNm)) };
      },
      ['second line'],
      'no second line was read',
    ],
    [
      'blanks after rich samples',
      () => {
        const { memory } = records.plan.blanks;
        return withoutSolutions(
          records.digestions.filter((d) => d.sample === memory).map((d) => d.digestion),
        );
      },
      ['crucible memory'],
      'no blank was digested after a rich sample',
    ],
    [
      'a plan for the stability of solutions',
      () => ({ ...records, plan: { ...records.plan, stability: null } }),
      ['solution stability'],
      'no solution was read again',
    ],
    [
      'procedure blanks',
      () => {
        const { procedure } = records.plan.blanks;
        return withoutSolutions(
          records.digestions.filter((d) => d.sample === procedure).map((d) => d.digestion),
        );
      },
      ['crucible memory', 'limit of quantification', 'procedure blank'],
      'no procedure blank was read',
    ],
  ])('without %s', (_, change, expected, reason) => {
    const validation = validateMatrix(change());
    expect(characteristicsOf(validation)).toEqual(expected);
    expect(
      unstudied(validation)
        .map((f) => f.reason)
        .join(' '),
    ).toContain(`Not studied: ${reason}`);
    expect(unstudied(validation).every((f) => f.estimate === null && f.n === 0)).toBe(true);
    const rest = whole.findings.filter(
      (f) => !expected.includes(f.characteristic) && f.verdict !== 'no criterion',
    );
    const ids = new Set(validation.findings.map((f) => f.id));
    expect(rest.filter((f) => !ids.has(f.id))).toEqual([]);
  });

  it('without the table of standards, and no budget is then compared with its target', () => {
    const validation = validateMatrix({ ...records, standards: [] });
    expect(characteristicsOf(validation)).toEqual(['check solution', 'second-source standard']);
    const targets = validation.findings.filter((f) => f.characteristic === 'target uncertainty');
    expect(new Set(targets.map((f) => f.verdict))).toEqual(new Set(['not shown']));
    expect(targets.find((f) => f.analyte === 'Zr')!.reason).toContain(
      'The uncertainty of the stock standards is not recorded.',
    );
  });

  it('without dilutions: of the analytes measured in them, and of those that they disturb', () => {
    const diluted = new Set(records.dilutions.map((d) => d.dilution));
    const validation = validateMatrix({
      ...records,
      dilutions: [],
      readings: records.readings.filter((r) => !diluted.has(r.solution)),
    });
    const open = new Set(
      unstudied(validation)
        .filter((f) => f.characteristic === 'trueness')
        .map((f) => f.analyte),
    );
    expect(open).toEqual(new Set(['Zr', 'Si', 'Hf']));
    const aluminium = validation.findings.filter(
      (f) => f.analyte === 'Al' && f.characteristic === 'trueness',
    );
    expect(aluminium).toEqual(
      whole.findings.filter((f) => f.analyte === 'Al' && f.characteristic === 'trueness'),
    );
  });

  it('and a report is written all the same, from the three tables that are required', () => {
    const solved = withoutSolutions(records.dilutions.map((d) => d.dilution));
    const bare: StudyRecords = {
      ...solved,
      // Without a record of moisture, results on the dry basis are those of portions weighed dry.
      plan: { ...solved.plan, portionsWeighed: 'dry' },
      ...{ dilutions: [], standards: [], references: [], spikes: [], moisture: [], interference: [] },
      ...{ exclusions: [], factors: [], history: [], rounds: [] },
    };
    const provenance = { issue: '', created: '', versions: {}, seed: null, parameters: {}, notes: [] };
    const html = renderHtml(validationReport(validateMatrix(bare), { files: [], selfCheck: [], provenance }));
    expect(html).toContain('not studied');
  });
});

describe('a criterion for every analyte and level', () => {
  const common = (characteristic: string): PlannedCriterion => ({
    ...{ characteristic, analyte: '*', level: '*', kind: 'at most', limit: 5, unit: '%' },
    ...{ reason: 'as agreed', owner: 'A. Example' },
  });
  const withCriteria = (changed: StudyRecords, ...criteria: PlannedCriterion[]): StudyRecords => ({
    ...changed,
    plan: { ...changed.plan, criteria },
  });

  it('is not answered by the analytes that were studied', () => {
    const references = records.references.filter((r) => r.analyte === 'Al');
    const validation = validateMatrix(
      withCriteria({ ...records, references }, { ...common('trueness'), kind: 'within' }),
    );
    const { analytes } = records.plan;
    expect(unstudied(validation).map((f) => f.id)).toEqual(
      analytes.filter((a) => a.analyte !== 'Al').map((a) => `trueness/${a.analyte}/*`),
    );
    expect(validation.fitness.find((f) => f.analyte === 'Ti')!.statement).toBe('not shown');
  });

  it('is not answered by the levels that were studied', () => {
    const left = records.digestions.filter((d) => d.sample !== 'ZP-3').map((d) => d.digestion);
    const digestions = records.digestions.filter((d) => left.includes(d.digestion));
    const plan = { ...records.plan, stability: null, nativeCheckDigestions: [] };
    const validation = validateMatrix(
      withCriteria({ ...records, digestions, plan }, common('repeatability')),
    );
    expect(unstudied(validation).map((f) => f.id)).toEqual(
      records.plan.analytes.map((a) => `repeatability/${a.analyte}/high`),
    );
  });

  it('gives way to one that names the analyte', () => {
    const own = { ...common('trueness'), kind: 'within', analyte: 'Ti', limit: 2 } as const;
    const validation = validateMatrix(
      withCriteria({ ...records, references: [] }, { ...common('trueness'), kind: 'within' }, own),
    );
    const limits = unstudied(validation).map((f) => [f.analyte, f.criterion!.limit]);
    expect(limits.length).toBe(records.plan.analytes.length);
    expect(Object.fromEntries(limits)).toMatchObject({ Ti: 2, Al: 5 });
  });
});

describe('a level that holds next to nothing', () => {
  it('is not studied by what is relative to it, with the reason, while everything else stands', () => {
    // With the contaminated blanks of calcium left in, more is subtracted than the lowest level holds.
    const validation = validateMatrix({ ...records, exclusions: [] });
    const calcium = unstudied(validation);
    expect(calcium.map((f) => f.id)).toEqual([
      'repeatability/Ca/low',
      'intermediate-precision/Ca/low',
      'target-uncertainty/Ca/low',
      'interference-check/Ca/*',
      'solution-stability/Ca/*',
    ]);
    expect(calcium[0]!.reason).toContain('the mean result of Ca at level low is not above 0');
    const others = (v: MatrixValidation) => v.findings.filter((f) => f.analyte !== 'Ca' && f.analyte !== '*');
    expect(others(validation)).toEqual(others(whole));
  });
});
