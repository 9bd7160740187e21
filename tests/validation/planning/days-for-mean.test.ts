import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { daysForMean } from '../../../src/validation/planning/days-for-mean.js';
import { trueness } from '../../../src/validation/trueness/trueness.js';
import { believableCount, criterion, rowsOfDays, simulatedDays } from '../support.js';

describe('days for a mean', () => {
  it('gives the power it promises for trueness, the certified value redrawn each time', () => {
    const wish = {
      allowed: 3,
      expected: 0.5,
      dayStandardDeviation: 1.5,
      fixedStandardUncertainty: 0.4,
      power: 0.9,
    };
    const days = daysForMean(wish);
    const trials = 2000;
    let met = 0;
    for (let trial = 0; trial < trials; trial++) {
      const draw = (seed: number, n: number, mean: number, s: number) =>
        simulatedDays(seed, trial, {
          days: n,
          perDay: 1,
          mean,
          dayStandardDeviation: s,
          standardDeviation: 0,
        });
      const certified = draw(91, 1, 100, 0.4)[0]![0]!;
      const found = trueness(rowsOfDays(draw(92, days, 100.5, 1.5)), {
        analyte: 'Al',
        level: 'RM',
        unit: 'mg/kg',
        criterion: criterion('within', 3, 'mg/kg'),
        certified: { material: 'RM', value: certified, standardUncertainty: 0.4 },
      });
      if (found.finding.verdict === 'met') met++;
    }
    expect(met).toBeGreaterThanOrEqual(trials - believableCount(0.1, trials));
    expect(days).toBeLessThan(10);
  });

  it('refuses what the reference is too uncertain for', () => {
    expect(() =>
      daysForMean({
        allowed: 1,
        expected: 0,
        dayStandardDeviation: 0.1,
        fixedStandardUncertainty: 0.6,
        power: 0.9,
      }),
    ).toThrow(InputError);
  });
});
