import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { homogeneity } from '../../../src/validation/robustness/homogeneity.js';
import { minimumPortion } from '../../../src/validation/robustness/minimum-portion.js';
import { criterion, dyestuff } from '../support.js';

const options = {
  analyte: 'yield',
  level: 'dyestuff',
  unit: 'mg/kg',
  criterion: criterion('at most', 1, '%'),
};

describe('homogeneity', () => {
  it('gives the component between batches of the dyestuff example (Davies and Goldsmith 1972, 6.4)', () => {
    const rows = dyestuff.flatMap((batch, u) =>
      batch.map((value, i) => ({ key: `${u}-${i}`, unit: `${u}`, value })),
    );
    const found = homogeneity(rows, { ...options, criterion: criterion('at most', 2, '%') });
    // 1764.05 as printed by lme4; exactly (11271.5 − 2451.25)/5.
    expect(found.betweenUnits ** 2).toAgreeWithin(1764.05, 1e-12);
    expect(found.finding.verdict).toBe('not shown');
    expect(found.limits.lowerOneSided).toBeLessThan(found.betweenUnits);
  });

  it('is met where units agree better than their repeats let expect: both limits are held at 0, the results scatter', () => {
    // Every unit has the mean 100 and repeats 1 apart: mean square between 0, within 0.5.
    const rows = Array.from({ length: 10 }, (_, u) =>
      [0.5, -0.5].map((d, i) => ({ key: `${u}-${i}`, unit: `${u}`, value: 100 + d })),
    ).flat();
    const found = homogeneity(rows, options);
    expect(found.limits).toMatchObject({ lowerOneSided: 0, upperOneSided: 0 });
    expect(found.finding.verdict).toBe('met');
  });

  it('is met by the upper limit where units agree', () => {
    const rows = [100, 100.2, 99.8, 100.1, 99.9, 100, 100.1, 99.9, 100.05, 99.95].flatMap((value, u) =>
      [0.1, -0.1].map((d, i) => ({ key: `${u}-${i}`, unit: `${u}`, value: value + d })),
    );
    expect(homogeneity(rows, options).finding.verdict).toBe('met');
  });
});

describe('minimum portion', () => {
  const limits = { lowerOneSided: 0.006, upperOneSided: 0.02, low: 0.005, high: 0.022 };

  it('grows with the square of the heterogeneity', () => {
    const found = minimumPortion({
      relativeHeterogeneity: 0.01,
      limits,
      portionG: 0.2,
      allowedRelative: 0.005,
    });
    expect(found.samplingConstantG).toAgreeWithin(0.2, 1e-12);
    expect(found.minimumG).toAgreeWithin(0.8, 1e-12);
    expect(found.safeMinimumG).toAgreeWithin(3.2, 1e-12);
  });

  it('refuses limits that do not hold the estimate', () => {
    expect(() =>
      minimumPortion({ relativeHeterogeneity: 0.03, limits, portionG: 0.2, allowedRelative: 0.005 }),
    ).toThrow(InputError);
  });
});
