import { describe, expect, it } from 'vitest';
import { describeIssue } from '../../../src/errors.js';
import { checkMeasurementModes } from '../../../src/records/checks/measurement-modes.js';
import { StudyView } from '../../../src/records/checks/study-view.js';
import { IssueList } from '../../../src/records/issue-list.js';
import type { StudyPlan } from '../../../src/records/study.js';
import type { StudyRecords } from '../../../src/records/study-records.js';
import { smallStudy } from '../small-study.js';

const table = <T>(file: string, records: readonly T[]) => ({
  file,
  records,
  rows: records.map((_, i) => i + 2),
  broken: [],
  isWhole: true,
});

/** Problems of the small study with a changed plan and changed tables. */
function problems(plan: Partial<StudyPlan>, changed: Partial<StudyRecords> = {}): string {
  const issues = new IssueList();
  const { digestions, dilutions, calibration, equipment } = { ...smallStudy, ...changed };
  const study = {
    plan: { ...smallStudy.plan, ...plan },
    equipment,
    tables: {
      digestions: table('digestions.csv', digestions),
      dilutions: table('dilutions.csv', dilutions),
      calibration: table('calibration.csv', calibration),
    },
    files: [],
  };
  checkMeasurementModes(new StudyView(study as never, issues));
  return issues.all().map(describeIssue).join('\n');
}

const [digestion, ...others] = smallStudy.digestions;
const inMode = (mode: StudyPlan['internalStandard']['mode'], solution?: object): Partial<StudyPlan> => ({
  internalStandard: { ...smallStudy.plan.internalStandard, mode, ...(solution ?? {}) },
});
const solution = {
  solution: { massFractionMgPerKg: 500, relativeStandardUncertainty: 0, densityGPerML: 1, source: 'Sc 500' },
};

describe('records that a measurement mode needs', () => {
  it('lack nothing on line in mg/kg', () => {
    expect(problems({})).toBe('');
  });

  it('name the digestion without a mass of internal standard, with file, row and column', () => {
    const found = problems(inMode('added to the digestion', solution), {
      digestions: [digestion!, ...others.map((d) => ({ ...d, internalStandardG: null }))],
    });
    expect(found).toContain(
      'digestions.csv, row 3, column "internal standard g": found an empty cell (and in 2 more row(s)); expected the mass of internal-standard solution, as its mode is "added to the digestion"',
    );
  });

  it('name the solution that the internal standard is added as', () => {
    expect(problems(inMode('in the diluent'))).toContain(
      'study.json, key "internalStandard.solution": found no such key',
    );
  });

  it('refuse a second addition to a dilution', () => {
    const dilutions = smallStudy.dilutions.map((d) => ({ ...d, internalStandardG: 1 }));
    expect(problems(inMode('added to the digestion', solution), { dilutions })).toContain(
      'dilutions.csv, row 2, column "internal standard g": found 1; expected nothing',
    );
  });

  it('name contents and densities that a calibration in mg/L needs', () => {
    const digestions = smallStudy.digestions.map((d) => ({ ...d, densityGPerML: null }));
    const found = problems({ calibration: { basis: 'mg/L' } }, { digestions });
    expect(found).toContain('calibration.csv, row 2, column "concentration mg/L": found an empty cell');
    expect(found).toContain('digestions.csv, row 2, column "density g/mL": found an empty cell');
    expect(found).toContain('study.json, key "density": found no such key');
  });

  it('do without a density in a routine run, whose other digestions go on', () => {
    const digestions = smallStudy.digestions.map((d) => ({ ...d, densityGPerML: null }));
    const routine = {
      validation: 'small',
      decisionRule: 'simple acceptance' as const,
      risk: 0.05,
      specifications: [],
    };
    expect(problems({ calibration: { basis: 'mg/L' }, routine }, { digestions })).not.toContain(
      'column "density g/mL"',
    );
  });

  it('name the flask of a dilution made up to a volume', () => {
    const dilutions = smallStudy.dilutions.map((d) => ({ ...d, finalG: null, finalML: 100 }));
    expect(problems({}, { dilutions })).toContain('study.json, key "flask": found no such key');
    const flask = { equipment: 'B-1', temperatureC: 20, temperatureStandardUncertaintyK: 1 };
    expect(problems({ flask }, { dilutions })).toContain(
      'study.json, key "flask.equipment": found "B-1"; expected the id of equipment with a volume',
    );
  });
});
