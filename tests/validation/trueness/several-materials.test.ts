import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { type MaterialPoint, severalMaterials } from '../../../src/validation/trueness/several-materials.js';
import { criterion } from '../support.js';

const options = { analyte: 'Al', level: 'range', unit: 'mg/kg', criterion: criterion('within', 5, '%') };

const points = (found: readonly number[]): MaterialPoint[] =>
  [100, 200, 400, 800].map((certified, i) => ({
    material: `RM-${i}`,
    certified,
    certifiedStandardUncertainty: 0.005 * certified,
    found: found[i]!,
    foundStandardUncertainty: 0.005 * certified,
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

  it('refuses two materials', () => {
    expect(() => severalMaterials(points([1, 2, 3, 4]).slice(0, 2), options)).toThrow(InputError);
  });
});
