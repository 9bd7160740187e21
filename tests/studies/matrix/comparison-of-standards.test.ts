import { describe, expect, it } from 'vitest';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { validateMatrix } from '../../../src/studies/matrix/validate-matrix.js';

const { records } = zirconPigmentStudy({ seed: 20260302 });

const withTwoMaterials = {
  ...records,
  references: records.references.filter(({ material }) => material !== 'QRM-3'),
};

describe('bias over several reference materials', () => {
  it('is not worked out from two materials', () => {
    expect(validateMatrix(withTwoMaterials).severalMaterials).toEqual([]);
  });

  it('is read off a line from three on, and shows the planted overlap at the lower end', () => {
    const found = validateMatrix(records).severalMaterials;
    expect(found.map((s) => s.analyte)).toEqual(records.plan.analytes.map((a) => a.analyte));
    const aluminium = found.find((s) => s.analyte === 'Al')!;
    expect(aluminium.points.map((p) => p.material)).toEqual(['QRM-1', 'QRM-2', 'QRM-3']);
    // The overlap adds a constant: about 0.23 mg/kg in solution, a fifth of the lowest content.
    const lowest = aluminium.regression.levels[0]!;
    expect(lowest.limits.low).toBeGreaterThan(0.1 * lowest.content);
    const { finding } = aluminium.regression;
    expect(finding.characteristic).toBe('trueness over the range');
    expect(finding.verdict).toBe('no criterion');
  });

  it('is judged where the plan has a criterion, and not studied where materials are missing', () => {
    const criterion = {
      ...records.plan.criteria.find((c) => c.characteristic === 'trueness' && c.analyte === 'Zr')!,
      characteristic: 'trueness over the range',
    };
    const planned = (study: typeof records) => ({
      ...study,
      plan: { ...study.plan, criteria: [...study.plan.criteria, criterion] },
    });
    const verdict = (study: typeof records) =>
      validateMatrix(planned(study)).findings.find(
        (f) => f.characteristic === 'trueness over the range' && f.analyte === 'Zr',
      )!;
    expect(verdict(records).verdict).toBe('met');
    expect(verdict(withTwoMaterials).verdict).toBe('not studied');
    expect(verdict(withTwoMaterials).reason).toContain('three reference materials');
  });
});

describe('standard from a second source', () => {
  it('is found within the uncertainties of both standards', () => {
    const { secondSource } = validateMatrix(records);
    expect(secondSource.map((s) => s.analyte)).toEqual(records.plan.analytes.map((a) => a.analyte));
    for (const { comparison, rows } of secondSource) {
      expect(rows.length).toBe(10);
      expect(comparison.finding.verdict).toBe('met');
    }
  });

  it('shows a stock that is 5 % wrong, which no recovery of that stock could show', () => {
    const calibration = records.calibration.map((c) =>
      c.analyte === 'Fe' && c.massFractionMgPerKg !== null
        ? { ...c, massFractionMgPerKg: c.massFractionMgPerKg * 1.05 }
        : c,
    );
    const { secondSource } = validateMatrix({ ...records, calibration });
    expect(secondSource.find((s) => s.analyte === 'Fe')!.comparison.finding.verdict).toBe('not met');
    expect(secondSource.find((s) => s.analyte === 'Ti')!.comparison.finding.verdict).toBe('met');
  });

  it('is not studied where the plan names no such solution', () => {
    const { secondSource: _, ...plan } = records.plan;
    const found = validateMatrix({ ...records, plan }).findings.filter(
      (f) => f.characteristic === 'second-source standard',
    );
    expect(new Set(found.map((f) => f.verdict))).toEqual(new Set(['not studied']));
    expect(found[0]!.reason).toContain('another source');
  });
});
