import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { powerForIntermediatePrecision } from '../../../src/validation/planning/power-for-intermediate-precision.js';
import { powerForStandardDeviation } from '../../../src/validation/planning/power-for-standard-deviation.js';
import { precisionDesign } from '../../../src/validation/planning/precision-design.js';
import {
  whatADesignCanShow,
  whatBlanksCanShow,
} from '../../../src/validation/precision/what-a-design-can-show.js';

const bounds = { power: 0.9, digestionsPerResult: 1, mostDays: 30, mostDigestionsPerDay: 4 };

describe('power for precision', () => {
  it.each([
    [6, 3, 0.25],
    [8, 3, 2],
    [10, 2, 1],
    [12, 2, 0.5],
    [20, 2, 0],
  ])('agrees with the simulated mean squares at %d days × %d', (days, digestionsPerDay, varianceRatio) => {
    const design = { days, digestionsPerDay, varianceRatio };
    const trials = 40_000;
    const simulated = whatADesignCanShow({ ...design, trials, seed: 5 });
    const power = powerForIntermediatePrecision(design, simulated.criterionForPower);
    // Four standard errors of the simulated probability, and the midpoint rule's own 1e-4.
    expect(Math.abs(power - 0.9)).toBeLessThan(4 * Math.sqrt((0.9 * 0.1) / trials) + 1e-4);
    const atTruth = powerForIntermediatePrecision(design, 1);
    const error = 4 * Math.sqrt((simulated.metAtTruth * 0.95) / trials) + 1e-4;
    expect(Math.abs(atTruth - simulated.metAtTruth)).toBeLessThan(error);
  });

  it('of results that are means, too', () => {
    const design = { days: 10, digestionsPerDay: 2, varianceRatio: 1, digestionsPerResult: 2 };
    const simulated = whatADesignCanShow({ ...design, trials: 40_000, seed: 6 });
    const power = powerForIntermediatePrecision(design, simulated.criterionForPower);
    expect(Math.abs(power - 0.9)).toBeLessThan(0.0062);
    expect(() => powerForIntermediatePrecision({ ...design, digestionsPerResult: 3 }, 2)).toThrow(InputError);
  });

  it('of one standard deviation is the inverse of the exact table', () => {
    for (const n of [6, 10, 12, 20, 30]) {
      expect(powerForStandardDeviation(whatBlanksCanShow(n, 0.9).criterionForPower, n - 1)).toAgreeWithin(
        0.9,
        1e-9,
      );
      expect(powerForStandardDeviation(1, n - 1)).toAgreeWithin(0.05, 1e-9);
    }
  });
});

describe('design for precision', () => {
  it('proposes the fewest digestions that have the wanted power', () => {
    const wish = { intermediateRatio: 2, repeatabilityRatio: null, varianceRatio: 1 };
    const found = precisionDesign([wish], bounds)!;
    const power = (days: number) => powerForIntermediatePrecision({ ...found, days, varianceRatio: 1 }, 2);
    expect(power(found.days)).toBeGreaterThanOrEqual(0.9);
    expect(power(found.days - 1)).toBeLessThan(0.9);
    // The planning table gives 1.81 to 1.96 at 10 days × 2, so 20 digestions are enough.
    expect(found.days * found.digestionsPerDay).toBeLessThanOrEqual(20);
    expect(found.days).toBeGreaterThanOrEqual(5);
  });

  it('serves the hardest of several criteria', () => {
    const easy = { intermediateRatio: 4, repeatabilityRatio: 4, varianceRatio: 1 };
    const hard = { intermediateRatio: null, repeatabilityRatio: 1.5, varianceRatio: 1 };
    const found = precisionDesign([easy, hard], bounds)!;
    expect(found).toEqual(precisionDesign([hard], bounds));
    expect(powerForStandardDeviation(1.5, found.days * (found.digestionsPerDay - 1))).toBeGreaterThanOrEqual(
      0.9,
    );
  });

  it('says where no design within the bounds shows a criterion, and refuses what is no wish', () => {
    const wish = { intermediateRatio: 1.05, repeatabilityRatio: null, varianceRatio: 1 };
    expect(precisionDesign([wish], { ...bounds, mostDays: 10 })).toBeNull();
    expect(() => precisionDesign([], bounds)).toThrow(InputError);
    expect(() => precisionDesign([{ ...wish, intermediateRatio: -1 }], bounds)).toThrow(InputError);
    expect(() => precisionDesign([wish], { ...bounds, mostDays: 3 })).toThrow(InputError);
  });
});
