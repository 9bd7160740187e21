import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { randomStream } from '../../../src/uncertainty/random-stream.js';
import { limitsOfStandardDeviation } from '../../../src/validation/confidence-limits.js';
import { detectionLimits } from '../../../src/validation/detection/detection-limits.js';
import { believableCount } from '../support.js';

const spread = (standardDeviation: number, degreesOfFreedom: number) => ({
  standardDeviation,
  degreesOfFreedom,
  limits: limitsOfStandardDeviation(standardDeviation, degreesOfFreedom),
});
const one = { digestionsPerResult: 1, blanksPerResult: 1 };

describe('detection limits', () => {
  // Currie 1995, Pure Appl. Chem. 67, 1699: factors at 4 degrees of freedom, t 2.132 and delta 4.07 (remembered, recomputed).
  it('uses Currie’s factors at 4 degrees of freedom', () => {
    const found = detectionLimits(spread(1, 4), one);
    expect(found.t).toRoundTo('2.132');
    expect(found.delta).toRoundTo('4.07');
    expect(found.decisionLimit!.inSolution).toAgreeWithin(found.t * Math.SQRT2, 1e-12);
    expect(found.detectionLimit!.inSolution).toAgreeWithin(found.delta * Math.SQRT2, 1e-12);
  });

  // Currie 1968, Anal. Chem. 40, 586: 1.645 and 3.29 for a well-known blank, 2.33 and 4.65 for paired observations (remembered).
  it('tends to Currie’s constants where the spread is well known', () => {
    const paired = detectionLimits(spread(1, 1e7), one);
    expect(paired.decisionLimit!.inSolution).toRoundTo('2.33');
    expect(paired.detectionLimit!.inSolution).toRoundTo('4.65');
    // The constant of a detection limit in counts, 2.71 + 4.65·√B, is the square of the factor.
    expect(paired.t ** 2).toRoundTo('2.71');
    const known = detectionLimits(spread(1, 1e7), { digestionsPerResult: 1, blanksPerResult: 1e9 });
    expect(known.decisionLimit!.inSolution).toRoundTo('1.64');
    expect(known.detectionLimit!.inSolution).toRoundTo('3.29');
  });

  it('carries the limits to the solid and the χ² interval of the spread with them', () => {
    const found = detectionLimits(spread(0.002, 11), {
      digestionsPerResult: 2,
      blanksPerResult: 12,
      solidPerUnit: 500,
    });
    expect(found.detectionLimit!.inSolid).toAgreeWithin(500 * found.detectionLimit!.inSolution, 1e-12);
    const { upperOneSided } = found.detectionLimits95!;
    // χ²(0.05; 11) = 4.57481, a quantile of any table.
    expect(upperOneSided / found.detectionLimit!.inSolid).toAgreeWithin(Math.sqrt(11 / 4.574813), 1e-6);
  });

  it('widens by the uncertainty of the interference correction, with more degrees of freedom', () => {
    const found = detectionLimits(spread(3, 5), {
      ...one,
      blanksPerResult: 1,
      correctionStandardUncertainty: 4,
    });
    expect(found.standardDeviationAtZero.inSolution).toAgreeWithin(Math.sqrt(18 + 16), 1e-12);
    expect(found.degreesOfFreedom).toAgreeWithin((34 * 34 * 5) / (18 * 18), 1e-12);
  });

  it('detects falsely in 5 % and misses 5 % at content delta·sigma', () => {
    const trials = 4000;
    const stream = randomStream(51, 'detection');
    const n = 8;
    const share = Math.sqrt(1 + 1 / n);
    const { delta } = detectionLimits(spread(1, n - 1), { digestionsPerResult: 1, blanksPerResult: n });
    let falsePositive = 0;
    let falseNegative = 0;
    for (let trial = 0; trial < trials; trial++) {
      const blanks = Array.from({ length: n }, () => stream.normal());
      const mean = blanks.reduce((sum, b) => sum + b, 0) / n;
      const s = Math.sqrt(blanks.reduce((sum, b) => sum + (b - mean) ** 2, 0) / (n - 1));
      const limit = detectionLimits(spread(s, n - 1), { digestionsPerResult: 1, blanksPerResult: n });
      if (stream.normal() - mean > limit.decisionLimit!.inSolution) falsePositive++;
      if (delta * share + stream.normal() - mean <= limit.decisionLimit!.inSolution) falseNegative++;
    }
    for (const count of [falsePositive, falseNegative]) {
      expect(count).toBeLessThanOrEqual(believableCount(0.05, trials));
      expect(count).toBeGreaterThanOrEqual(2 * 0.05 * trials - believableCount(0.05, trials));
    }
  });

  it('refuses counts below 1 and probabilities outside 0 to 1', () => {
    expect(() => detectionLimits(spread(1, 5), { ...one, digestionsPerResult: 0 })).toThrow(InputError);
    expect(() => detectionLimits(spread(1, 5), { ...one, alpha: 1 })).toThrow(InputError);
  });
});
