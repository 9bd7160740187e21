import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { oneWayAnalysis } from '../../../src/statistics/analysis-of-variance/one-way.js';
import { homogeneityChecks } from '../../../src/validation/robustness/homogeneity-checks.js';
import { dyestuff } from '../support.js';

/** Ten units of two portions with a given spread within and none between. */
const alike = oneWayAnalysis(Array.from({ length: 10 }, () => [99.9, 100.1]));

describe('homogeneity against an allowed standard deviation', () => {
  it('has the factors that ISO 13528, Annex B, prints for duplicates of 7 to 20 units (remembered)', () => {
    const printed: readonly (readonly [number, number, number])[] = [
      [20, 1.59, 0.57],
      [15, 1.69, 0.71],
      [10, 1.88, 1.01],
      [8, 2.01, 1.25],
      [7, 2.1, 1.43],
    ];
    for (const [units, f1, f2] of printed) {
      const found = homogeneityChecks(
        oneWayAnalysis(Array.from({ length: units }, (_, u) => [100 + u, 101 + u])),
        1,
      );
      expect(found.factorOfAllowed, `F1 of ${units}`).toRoundTo(f1.toFixed(2));
      expect(found.factorOfRepeatability, `F2 of ${units}`).toRoundTo(f2.toFixed(2));
    }
  });

  it('passes units that are alike and fails those that differ beyond doubt', () => {
    expect(homogeneityChecks(alike, 0.1).passes).toBe(true);
    // Dyestuff (Davies and Goldsmith 1972, 6.4): between batches 42.0, within 49.5.
    const { f, pValue, ...rest } = homogeneityChecks(oneWayAnalysis(dyestuff), 5);
    expect(f).toAgreeWithin(11271.5 / 2451.25, 1e-12);
    expect(pValue).toBeLessThan(0.05);
    expect(rest.passes).toBe(false);
    expect(homogeneityChecks(oneWayAnalysis(dyestuff), 60).passes).toBe(true);
  });

  it('refuses an allowed standard deviation below 0', () => {
    expect(() => homogeneityChecks(alike, -1)).toThrow(InputError);
  });
});
