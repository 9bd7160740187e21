import { describe, expect, it } from 'vitest';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { lineNearZero, nearZero } from '../../../src/studies/matrix/detection-study.js';
import { validateMatrix } from '../../../src/studies/matrix/validate-matrix.js';

const { records } = zirconPigmentStudy({ seed: 20260302 });
const validation = validateMatrix(records);

/** Standards of a run whose signal is exact but for the residuals given. */
function run(slope: number, residuals: readonly number[]) {
  const contents = [0, 1, 2, 3, 10];
  return {
    points: contents.map((content, i) => ({
      solution: `S${i}`,
      content,
      preparationUncertainty: 0,
      ratio: slope * (content + (residuals[i] ?? 0)),
    })),
  };
}

describe('line near content 0', () => {
  it('takes the zero and standards up to five times the lowest one, but four at least', () => {
    expect(nearZero(run(1, [])).map((p) => p.content)).toEqual([0, 1, 2, 3]);
    const few = { points: run(1, []).points.filter((p) => p.content !== 2) };
    expect(nearZero(few).map((p) => p.content)).toEqual([0, 1, 3, 10]);
  });

  it('pools the residuals of runs of different slope as contents', () => {
    // Residuals 1, −1, −1, 1 times d are at right angles to a line through 0, 1, 2, 3: sum of squares 4·d², 2 degrees of freedom.
    const pattern = (d: number) => [d, -d, -d, d];
    const line = lineNearZero([run(2, pattern(0.1)), run(4, pattern(0.2)), run(3, pattern(0.1))])!;
    expect(line.slope).toAgreeWithin(3, 1e-12);
    expect(line.degreesOfFreedom).toBe(6);
    expect(line.residualStandardDeviation / line.slope).toAgreeWithin(Math.sqrt((4 * 0.06) / 6), 1e-12);
  });

  it('is none where no run has four standards', () => {
    expect(lineNearZero([{ points: run(1, []).points.slice(0, 3) }])).toBeNull();
  });
});

describe('approaches to detection from the records of a study', () => {
  it('stand side by side for every analyte, with the one that the plan names marked', () => {
    expect(validation.detection.map((d) => d.analyte)).toEqual(records.plan.analytes.map((a) => a.analyte));
    for (const { approaches } of validation.detection) {
      expect(approaches.filter((a) => a.planned).map((a) => a.name)).toEqual(['procedure blanks']);
    }
  });

  it('give from procedure blanks the limits that the study judges by', () => {
    for (const { analyte, approaches } of validation.detection) {
      const own = validation.limits.find((l) => l.analyte === analyte)!;
      const blanks = approaches[0]!;
      expect(blanks.detectionLimit!.inSolid).toAgreeWithin(own.detection!.detectionLimit!.inSolid, 1e-12);
      expect(blanks.quantificationLimit!.inSolid).toAgreeWithin(own.quantification!.value!, 1e-12);
    }
  });

  it('take low digestions in batches of a day where the plan names their sample, and they are low', () => {
    const missing = (lowLevelSample: string | undefined) => {
      const detection = {
        approach: 'spikes and blanks' as const,
        ...(lowLevelSample === undefined ? {} : { lowLevelSample }),
      };
      const found = validateMatrix({ ...records, plan: { ...records.plan, detection } }).detection;
      return new Map(
        found.map(({ analyte, approaches }) => [analyte, approaches.find((a) => a.planned)!.missing]),
      );
    };
    const low = missing('ZP-0');
    // Low enough; what is missing are blanks.
    expect(low.get('Ca')).toContain('found 4 method blanks');
    expect(low.get('Zr')).toContain('found 0 low spikes');
    expect(missing('ZP-3').get('Ca')).toContain('found 0 low spikes');
    expect(missing(undefined).get('Ca')).toContain('found 0 low spikes');
  });
});
