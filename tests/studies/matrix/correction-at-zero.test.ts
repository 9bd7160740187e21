import { describe, expect, it } from 'vitest';
import type { StudyRecords } from '../../../src/records/study-records.js';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { evaluateStudy } from '../../../src/studies/evaluate-study.js';
import { blankStudy } from '../../../src/studies/matrix/blank-study.js';
import { correctionAtZero } from '../../../src/studies/matrix/correction-at-zero.js';
import { resultsOf } from '../../../src/studies/matrix/matrix-context.js';
import { precisionStudy } from '../../../src/studies/matrix/precision-study.js';

const { records } = zirconPigmentStudy({ seed: 4 });

/** The records with another coefficient of zirconium on the line of hafnium. */
function withCoefficient(change: (k: StudyRecords['interference'][number]) => object): StudyRecords {
  const interference = records.interference.map((k) => (k.analyte === 'Hf' ? { ...k, ...change(k) } : k));
  return { ...records, interference };
}

const meanOfLow = (study: ReturnType<typeof evaluateStudy>) => {
  const values = resultsOf(study, 'Hf', 'sample', 'ZP-1').map((r) => r.value);
  return values.reduce((a, b) => a + b, 0) / values.length;
};

describe('interference correction at content 0', () => {
  const study = evaluateStudy(records);
  const whole = correctionAtZero(study, 'Hf')!;

  it('holds what a coefficient off by its standard uncertainty does to the samples of the lowest level', () => {
    expect(whole.level).toBe('low');
    expect(whole.interferents.map((i) => i.interferent)).toEqual(['Zr']);
    const moved = evaluateStudy(
      withCoefficient((k) => ({ apparentPerUnit: k.apparentPerUnit + k.standardUncertainty })),
    );
    const exact = correctionAtZero(evaluateStudy(withCoefficient(() => ({ standardUncertainty: 0 }))), 'Hf')!;
    // (c·u(K))² is the whole less the part of u(c). The nominal masses differ from those of a digestion by less than 1 %.
    const ofCoefficient = Math.sqrt(whole.inSolid ** 2 - exact.inSolid ** 2);
    expect(ofCoefficient).toAgreeWithin(meanOfLow(study) - meanOfLow(moved), 0.01);
  });

  it('holds the uncertainty of the content of the interferent times the coefficient', () => {
    const without = (apparentPerUnit: number) =>
      correctionAtZero(
        evaluateStudy(withCoefficient(() => ({ apparentPerUnit, standardUncertainty: 0 }))),
        'Hf',
      )!;
    expect(without(4e-4).inSolution).toAgreeWithin(2 * without(2e-4).inSolution, 1e-12);
    // Signals of zirconium have a relative standard uncertainty of some tenths of a percent: K·u(c) is that of K·c.
    const { inSolution, interferents } = without(2e-4);
    const relative = inSolution / (2e-4 * interferents[0]!.content);
    expect(relative).toBeGreaterThan(0.001);
    expect(relative).toBeLessThan(0.01);
  });

  it('widens the limits of the analyte and is told in the finding; an analyte that nothing disturbs has none', () => {
    const limits = blankStudy(study, precisionStudy(study));
    const { blank, detection, quantification } = limits.find((l) => l.analyte === 'Hf')!;
    expect(detection!.standardDeviationAtZero.inSolid).toAgreeWithin(
      Math.hypot(blank!.atZero!.standardDeviation, whole.inSolid),
      1e-12,
    );
    expect(quantification!.finding.notes[0]).toContain('lowest level, low (Zr 9');
    expect(limits.find((l) => l.analyte === 'Al')!.correction).toBeNull();
  });
});
