import { beforeAll, describe, expect, it } from 'vitest';
import type { StudyRecords } from '../../../src/records/study-records.js';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { fitLine } from '../../../src/statistics/regression/line.js';
import { type EvaluatedStudy, evaluateStudy } from '../../../src/studies/evaluate-study.js';
import { diagnosticsStudy } from '../../../src/studies/matrix/diagnostics-study.js';
import { ruggednessStudy } from '../../../src/studies/matrix/ruggedness-study.js';
import { trendStudy } from '../../../src/studies/matrix/trend-study.js';
import { validateMatrix } from '../../../src/studies/matrix/validate-matrix.js';

let records: StudyRecords;
let study: EvaluatedStudy;

beforeAll(() => {
  records = zirconPigmentStudy({ seed: 20260302 }).records;
  study = evaluateStudy(records);
});

describe('ruggedness from the table of factors', () => {
  it('finds the planted effect of temperature largest, as the difference of two means', () => {
    const found = ruggednessStudy(study)!;
    const mean = (level: -1 | 1) => {
      const own = records.factors.filter((f) => f.levels['fusion temperature'] === level);
      return own.reduce((sum, f) => sum + f.response, 0) / own.length;
    };
    const relative = (100 * (mean(1) - mean(-1))) / ((mean(1) + mean(-1)) / 2);
    expect(found.effects[0]!.factor).toBe('fusion temperature');
    expect(found.finding.estimate!).toAgreeWithin(relative, 1e-12);
    expect(found.effects.map((e) => e.factor)).not.toContain('unused 1');
    expect([found.errorFrom, found.degreesOfFreedom]).toEqual(['dummies', 4]);
    expect(found.finding.rows[0]!.keys).toHaveLength(12);
  });

  it('judges the largest effect against the criterion', () => {
    const doubled = records.factors.map((f) => ({
      ...f,
      response: f.response + 2 * (f.levels['fusion time'] ?? 0),
    }));
    const found = ruggednessStudy(evaluateStudy({ ...records, factors: doubled }))!;
    expect([found.effects[0]!.factor, found.finding.verdict]).toEqual(['fusion time', 'not met']);
  });

  it('is not studied without the table, and says what would show it', () => {
    const bare = validateMatrix({ ...records, factors: [] });
    const finding = bare.findings.find((f) => f.characteristic === 'ruggedness')!;
    expect(finding.verdict).toBe('not studied');
    expect(finding.reason).toContain('two-level design');
  });
});

describe('trend over the sequence', () => {
  it('takes each result relative to the mean of its own material', () => {
    const [zirconium] = trendStudy(study);
    const run = zirconium!.rows.filter((r) => r.run === 'R-03');
    const { slope } = fitLine(
      run.map((r) => r.position),
      run.map((r) => r.value),
    );
    const own = zirconium!.trend.runs.find((r) => r.run === 'R-03')!;
    const level = run.reduce((sum, r) => sum + r.value, 0) / run.length;
    expect(own.relativeChange).toAgreeWithin((slope * own.span) / level, 1e-9);
  });

  it('finds a trend that drift correction leaves, once it is put into the readings', () => {
    // 8 % over the places of a run, in samples only: the check solutions do not see it.
    const samples = new Set([
      ...records.digestions.map((d) => d.digestion),
      ...records.dilutions.map((d) => d.dilution),
    ]);
    const readings = records.readings.map((r) =>
      r.analyte === 'Ti' && samples.has(r.solution)
        ? { ...r, intensity: r.intensity * (1 + (0.08 * r.position) / 60) }
        : r,
    );
    const found = trendStudy(evaluateStudy({ ...records, readings }));
    const verdictOf = (analyte: string) =>
      found.find((t) => t.trend.finding.analyte === analyte)!.trend.finding.verdict;
    expect([verdictOf('Ti'), verdictOf('Fe')]).toEqual(['not met', 'met']);
  });
});

describe('diagnostics of calibrations', () => {
  it('gives every calibration of every analyte with as many leverages as parameters', () => {
    const found = diagnosticsStudy(study);
    expect(found.length).toBe(10 * records.plan.analytes.length);
    for (const { points } of found) {
      expect(points.reduce((sum, p) => sum + p.leverage, 0)).toAgreeWithin(2, 1e-9);
    }
  });

  it('sees a standard that was wrongly made', () => {
    const wrong = { run: 'R-02', analyte: 'Fe' };
    const highest = records.calibration
      .filter((c) => c.run === wrong.run && c.analyte === wrong.analyte)
      .sort((a, b) => b.massFractionMgPerKg! - a.massFractionMgPerKg!)[1]!;
    const readings = records.readings.map((r) =>
      r.run === wrong.run && r.analyte === wrong.analyte && r.solution === highest.solution
        ? { ...r, intensity: r.intensity * 1.1 }
        : r,
    );
    const own = diagnosticsStudy(evaluateStudy({ ...records, readings })).find(
      (d) => d.run === wrong.run && d.analyte === wrong.analyte,
    )!;
    const farthest = own.points.reduce((a, b) => (Math.abs(b.studentised) > Math.abs(a.studentised) ? b : a));
    expect(farthest.solution).toBe(highest.solution);
    expect(Math.abs(farthest.studentised)).toBeGreaterThan(6);
  });
});
