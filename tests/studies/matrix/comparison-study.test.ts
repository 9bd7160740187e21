import { describe, expect, it } from 'vitest';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { validateMatrix } from '../../../src/studies/matrix/validate-matrix.js';

const { records } = zirconPigmentStudy({ seed: 20260302 });
const validation = validateMatrix(records);

describe('comparison with another method, from the records of a study', () => {
  it('holds the mean result of each sample against that of the other method', () => {
    const zirconium = validation.comparisons.find((c) => c.analyte === 'Zr')!;
    expect(zirconium.rows.map((r) => r.key.split('|')[0])).toEqual([
      'ZP-1',
      'ZP-2',
      'ZP-3',
      'ZP-4',
      'ZP-5',
      'QRM-1',
      'QRM-2',
    ]);
    const own = validation.study.results.filter(
      (r) => r.analyte === 'Zr' && r.sample === 'ZP-2' && r.kind === 'sample',
    );
    const mean = own.reduce((sum, r) => sum + r.value!, 0) / own.length;
    expect(zirconium.rows[1]!.candidate).toAgreeWithin(mean, 1e-12);
    expect(zirconium.comparison.finding.rows[0]!.table).toBe('comparison');
  });

  it('shows the overlap on aluminium and nothing else', () => {
    const wrong = validation.comparisons.filter((c) => c.comparison.finding.verdict !== 'met');
    expect(wrong.map((c) => [c.analyte, c.comparison.finding.verdict])).toEqual([['Al', 'not met']]);
  });

  it('reads another unit of the same quantity', () => {
    const comparison = records.comparison.map((c) =>
      c.unit === 'mg/kg'
        ? {
            ...c,
            unit: 'g/100 g' as const,
            value: c.value / 1e4,
            standardUncertainty: c.standardUncertainty / 1e4,
          }
        : c,
    );
    const found = validateMatrix({ ...records, comparison }).comparisons;
    found.forEach((c, i) => {
      const before = validation.comparisons[i]!.comparison.meanDifference;
      expect(c.comparison.meanDifference).toAgreeWithin(before, 1e-9);
    });
  });

  it('is not studied without results of another method', () => {
    const found = validateMatrix({ ...records, comparison: [] }).findings.filter(
      (f) => f.characteristic === 'method comparison',
    );
    expect(new Set(found.map((f) => f.verdict))).toEqual(new Set(['not studied']));
    expect(found[0]!.reason).toContain('another method');
  });
});
