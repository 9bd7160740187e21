import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { meanOverDays } from '../../../src/validation/mean-over-days.js';
import { type MaterialPoint, severalMaterials } from '../../../src/validation/trueness/several-materials.js';
import { believableCount, criterion, rowsOfDays, simulatedDays } from '../support.js';

const options = { analyte: 'Al', level: 'range', unit: 'mg/kg', criterion: criterion('within', 5, '%') };

const points = (found: readonly number[]): MaterialPoint[] =>
  [100, 200, 400, 800].map((certified, i) => ({
    material: `RM-${i}`,
    certified,
    certifiedStandardUncertainty: 0.005 * certified,
    found: found[i]!,
    foundStandardUncertainty: 0.005 * certified,
    days: 10,
    digestions: [`D-${i}`],
  }));

describe('trueness by several reference materials', () => {
  it('has no bias where found equals certified', () => {
    const { levels, finding, fit } = severalMaterials(points([100, 200, 400, 800]), options);
    expect(fit.slope).toAgreeWithin(1, 1e-9);
    for (const level of levels) expect(Math.abs(level.bias)).toBeLessThan(1e-9);
    expect(finding.verdict).toBe('met');
  });

  it('judges the worse end of the range: a constant bias shows at the low one', () => {
    const { finding, levels } = severalMaterials(points([120, 220, 420, 820]), options);
    expect(levels[0]!.bias).toAgreeWithin(20, 1e-6);
    expect(finding.estimate).toAgreeWithin(20, 1e-6);
    expect(finding.verdict).toBe('not met');
  });

  it('finds a proportional bias', () => {
    const { finding, fit } = severalMaterials(points([110, 220, 440, 880]), options);
    expect(fit.slope).toAgreeWithin(1.1, 1e-9);
    expect(finding.verdict).toBe('not met');
  });

  it('shows nothing where the materials contradict each other', () => {
    const { finding, consistent } = severalMaterials(points([100, 212, 388, 800]), options);
    expect(consistent).toBe(false);
    expect(finding.verdict).toBe('not shown');
  });

  it('shows nothing where one material has results of fewer than 5 days', () => {
    const few = points([100, 200, 400, 800]).map((point, i) => (i === 2 ? { ...point, days: 4 } : point));
    const { finding } = severalMaterials(few, options);
    expect(finding.verdict).toBe('not shown');
    expect(finding.reason).toContain('Found 4 day(s) of RM-2; at least 5 days');
  });

  // Contents 100, 200, 400 found 3 too high, so that the lowest lies at the edge of 3 %; days scatter by 1 %, u of the certificate 0.02 %.
  it('declares a bias at the allowed edge met in at most 5 % of studies with few days, and finds 95 % of them consistent', () => {
    const trials = 3000;
    let met = 0;
    let consistent = 0;
    for (let trial = 0; trial < trials; trial++) {
      const study = [100, 200, 400].map((content, i): MaterialPoint => {
        const [means, [error]] = [
          simulatedDays(61 + i, trial, {
            days: 5,
            perDay: 1,
            mean: content + 3,
            dayStandardDeviation: 0.01 * content,
            standardDeviation: 0,
          }),
          simulatedDays(71 + i, trial, {
            days: 1,
            perDay: 1,
            mean: 0,
            dayStandardDeviation: 2e-4 * content,
            standardDeviation: 0,
          }),
        ] as const;
        const found = meanOverDays(rowsOfDays(means));
        return {
          material: `RM-${i}`,
          certified: content + error![0]!,
          certifiedStandardUncertainty: 2e-4 * content,
          found: found.mean,
          foundStandardUncertainty: found.standardUncertainty!,
          days: 5,
          digestions: [`D-${i}`],
        };
      });
      const result = severalMaterials(study, { ...options, criterion: criterion('within', 3, '%') });
      if (result.finding.verdict === 'met') met++;
      if (result.consistent) consistent++;
    }
    expect(met).toBeLessThanOrEqual(believableCount(0.05, trials));
    expect(trials - consistent).toBeLessThanOrEqual(believableCount(0.05, trials));
  });

  it('refuses two materials', () => {
    expect(() => severalMaterials(points([1, 2, 3, 4]).slice(0, 2), options)).toThrow(InputError);
    const once = points([100, 200, 400, 800]).map((point) => ({ ...point, days: 1 }));
    expect(() => severalMaterials(once, options)).toThrow('days of RM-0: found 1');
  });
});
