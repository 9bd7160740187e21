import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import {
  whatADesignCanShow,
  whatBlanksCanShow,
} from '../../../src/validation/precision/what-a-design-can-show.js';

const ratios = [0.25, 0.5, 1, 2];

describe('what a design can show about precision', () => {
  // Figures of the planning table (median upper limit ÷ σ_I; criterion for 90 % power) for σ²_day/σ²_dig from 0.25 to 2,
  // from a simulation independent of this one. With 40 000 trials the median has a standard error below 0.003 and the
  // 90 % quantile below 0.006; half a unit of the last printed digit is 0.005.
  const table: [number, number, [number, number], [number, number]][] = [
    [6, 3, [1.59, 1.79], [2.1, 2.55]],
    [8, 3, [1.44, 1.59], [1.81, 2.14]],
    [10, 2, [1.46, 1.51], [1.81, 1.96]],
    [12, 2, [1.4, 1.44], [1.69, 1.83]],
    [20, 2, [1.27, 1.3], [1.47, 1.56]],
  ];

  it.each(table)('gives the published range at %d days × %d', (days, digestionsPerDay, medians, criteria) => {
    const found = ratios.map((varianceRatio) =>
      whatADesignCanShow({ days, digestionsPerDay, varianceRatio, trials: 40_000, seed: 5 }),
    );
    const median = found.map((f) => f.medianUpperLimit);
    const criterion = found.map((f) => f.criterionForPower);
    expect(Math.abs(Math.min(...median) - medians[0])).toBeLessThan(0.015);
    expect(Math.abs(Math.max(...median) - medians[1])).toBeLessThan(0.015);
    expect(Math.abs(Math.min(...criterion) - criteria[0])).toBeLessThan(0.025);
    expect(Math.abs(Math.max(...criterion) - criteria[1])).toBeLessThan(0.025);
    for (const f of found) {
      expect(f.metAtTruth).toBeGreaterThan(0.015);
      expect(f.metAtTruth).toBeLessThan(0.05);
    }
  });

  it('gives the same figures for the same seed', () => {
    const design = { days: 6, digestionsPerDay: 2, varianceRatio: 1, trials: 500, seed: 3 };
    expect(whatADesignCanShow(design)).toEqual(whatADesignCanShow(design));
  });

  it('gives the exact figures for blanks', () => {
    const printed: [number, string, string][] = [
      [6, '2.09', '2.84'],
      [10, '1.65', '2.10'],
      [12, '1.55', '1.94'],
      [20, '1.37', '1.64'],
      [30, '1.28', '1.49'],
    ];
    for (const [n, limit, wanted] of printed) {
      expect(whatBlanksCanShow(n).upperLimit).toRoundTo(limit);
      expect(whatBlanksCanShow(n).criterionForPower).toRoundTo(wanted);
    }
  });

  it('refuses a design that cannot be analysed', () => {
    expect(() => whatADesignCanShow({ days: 1, digestionsPerDay: 2, varianceRatio: 1, seed: 1 })).toThrow(
      InputError,
    );
    expect(() => whatBlanksCanShow(1)).toThrow(InputError);
  });
});
