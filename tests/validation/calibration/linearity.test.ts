import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { type LinearityRow, linearity } from '../../../src/validation/calibration/linearity.js';
import { believableCount, criterion, simulatedDays } from '../support.js';

const options = {
  analyte: 'Al',
  level: 'range',
  unit: 'mg/kg',
  criterion: criterion('within', 2, '%'),
};

/** Deviations by level (rows) and run (columns), as fractions. */
function rows(deviations: Record<string, readonly number[]>): LinearityRow[] {
  return Object.entries(deviations).flatMap(([level, values]) =>
    values.map((d, run) => ({
      key: `${level}-${run}`,
      run: `R-${run}`,
      level,
      massFraction: Number(level),
      backCalculated: Number(level) * (1 + d),
    })),
  );
}

describe('linearity by equivalence', () => {
  it('judges the worst level by the 90 % interval of its mean deviation over the runs', () => {
    // Level 1: deviations 0.010, 0.012, 0.014: mean 0.012, s = 0.002, t(0.95; 2) = 2.91999.
    const found = linearity(rows({ '1': [0.01, 0.012, 0.014], '10': [0, 0.001, -0.001] }), options);
    expect(found.finding.estimate).toAgreeWithin(1.2, 1e-9);
    expect(found.finding.limits!.upperOneSided).toAgreeWithin(
      1.2 + (2.919985580355516 * 0.2) / Math.sqrt(3),
      1e-9,
    );
    expect(found.finding.verdict).toBe('met');
    expect(found.finding.notes[0]).toContain('number 1 of the series');
  });

  it('is not met where one level deviates for sure, not shown where one level is open', () => {
    const verdict = (d: Record<string, readonly number[]>) => linearity(rows(d), options).finding.verdict;
    expect(verdict({ '1': [0.03, 0.031, 0.032], '10': [0, 0.001, -0.001] })).toBe('not met');
    expect(verdict({ '1': [-0.03, 0.03, 0], '10': [0, 0.001, -0.001] })).toBe('not shown');
    expect(verdict({ '1': [-0.03, 0.03, 0], '10': [-0.03, -0.031, -0.032] })).toBe('not met');
  });

  it('leaves the calibration blank out and states the range in solution and solid', () => {
    const found = linearity(rows({ '0': [0, 0, 0], '1': [0, 0.001, 0], '20': [0, 0.001, 0] }), {
      ...options,
      solidPerUnit: 500,
    });
    expect(found.levels.map((level) => level.massFraction)).toEqual([1, 20]);
    expect(found.rangeInSolid).toEqual({ low: 500, high: 10000 });
  });

  it('counts a run once where it holds a level twice', () => {
    const twice = rows({ '1': [0.01, 0.02] }).flatMap((row) => [row, row]);
    expect(linearity(twice, options).levels[0]!.deviations.length).toBe(2);
  });

  it('shows nothing from one run', () => {
    expect(linearity(rows({ '1': [0.001], '10': [0] }), options).finding.verdict).toBe('not shown');
  });

  it('declares a deviation at the edge met in at most 5 % of studies', () => {
    const trials = 3000;
    let met = 0;
    for (let trial = 0; trial < trials; trial++) {
      const draw = (seed: number, mean: number) =>
        simulatedDays(seed, trial, {
          days: 5,
          perDay: 1,
          mean,
          dayStandardDeviation: 0.004,
          standardDeviation: 0,
        }).flat();
      const found = linearity(rows({ '1': draw(41, 0.02), '10': draw(42, 0) }), options);
      if (found.finding.verdict === 'met') met++;
    }
    expect(met).toBeLessThanOrEqual(believableCount(0.05, trials));
  });

  it('refuses blanks alone and contents that are not finite', () => {
    expect(() => linearity(rows({ '0': [0, 0] }), options)).toThrow(InputError);
    expect(() => linearity(rows({ '1': [0, Number.NaN] }), options)).toThrow(InputError);
  });
});
