import { describe, expect, it } from 'vitest';
import {
  equivalencePower,
  equivalenceSampleSize,
} from '../../../src/statistics/comparison/equivalence-power.js';
import { equivalenceTest } from '../../../src/statistics/comparison/equivalence-test.js';
import { pairedTTest } from '../../../src/statistics/comparison/paired-t-test.js';
import { pooledTTest } from '../../../src/statistics/comparison/pooled-t-test.js';
import { tTestPower, tTestSampleSize } from '../../../src/statistics/comparison/t-test-power.js';
import { fTest } from '../../../src/statistics/comparison/variance-ratio.js';
import {
  varianceRatioLimitPower,
  varianceRatioLimitSampleSize,
  varianceRatioPower,
  varianceRatioSampleSize,
} from '../../../src/statistics/comparison/variance-ratio-power.js';
import { welchPower, welchSampleSize } from '../../../src/statistics/comparison/welch-power.js';
import { welchTTest } from '../../../src/statistics/comparison/welch-t-test.js';
import { randomStream } from '../../../src/uncertainty/random-stream.js';

const trials = 4000;

/** Share of invented experiments in which a test decides as wanted, and 4 standard errors of it. */
function simulated(decides: (normal: (n: number, mean: number, sd: number) => number[]) => boolean) {
  const stream = randomStream(20260302, 'power');
  const normal = (n: number, mean: number, sd: number) =>
    Array.from({ length: n }, () => mean + sd * stream.normal());
  let count = 0;
  for (let i = 0; i < trials; i++) if (decides(normal)) count++;
  const share = count / trials;
  return { share, reach: 4 * Math.sqrt((share * (1 - share)) / trials) };
}

function expectPower(power: number, decides: Parameters<typeof simulated>[0]): void {
  const { share, reach } = simulated(decides);
  expect(Math.abs(power - share), `${power} against ${share}`).toBeLessThan(reach);
}

describe('power agrees with invented experiments', () => {
  it('of the paired t test', () => {
    const { power } = tTestPower(7, { kind: 'paired', difference: 1, standardDeviation: 1.1 });
    expectPower(power, (normal) => {
      const differences = normal(7, 1, 1.1);
      return pairedTTest(differences, new Array<number>(7).fill(0)).pValue < 0.05;
    });
  });

  it('of the pooled t test, one-sided', () => {
    const design = { kind: 'two-sample', difference: 0.8, standardDeviation: 1, sides: 1 } as const;
    expectPower(
      tTestPower(9, design).power,
      (normal) => pooledTTest(normal(9, 0.8, 1), normal(9, 0, 1)).pAbove < 0.05,
    );
  });

  it('of the Welch t test with unequal groups', () => {
    const { power } = welchPower(5, 12, { difference: 1.5, standardDeviations: [1.5, 0.5] });
    expectPower(power, (normal) => welchTTest(normal(5, 1.5, 1.5), normal(12, 0, 0.5)).pValue < 0.05);
  });

  it('of two one-sided tests', () => {
    const design = {
      kind: 'two-sample',
      difference: 0.3,
      low: -1,
      high: 1.2,
      standardDeviation: 0.8,
    } as const;
    expectPower(equivalencePower(10, design).power, (normal) => {
      const test = pooledTTest(normal(10, 0.3, 0.8), normal(10, 0, 0.8));
      return equivalenceTest(test, -1, 1.2).equivalent;
    });
  });

  it('of the F test, two-sided', () => {
    const { power } = varianceRatioPower(7, 11, { ratio: 4, sides: 2 });
    expectPower(power, (normal) => fTest(normal(8, 0, 2), normal(12, 0, 1)).pValue < 0.05);
  });

  it('of the upper limit of a ratio of variances', () => {
    const { power } = varianceRatioLimitPower(3, 14, 19, { ratio: 1.2 });
    expectPower(
      power,
      (normal) => fTest(normal(15, 0, Math.sqrt(1.2)), normal(20, 0, 1), 0.9).interval.high < 3,
    );
  });
});

describe('power', () => {
  it('is the level where there is nothing to find, and half where a one-sided difference sits on the limit', () => {
    const nothing = { kind: 'two-sample', difference: 0, standardDeviation: 1 } as const;
    expect(tTestPower(6, nothing).power).toAgreeWithin(0.05, 1e-12);
    expect(welchPower(6, 6, { difference: 0, standardDeviations: [1, 1] }).power).toBeLessThan(0.05);
    expect(varianceRatioPower(6, 6, { ratio: 1, sides: 2 }).power).toAgreeWithin(0.05, 1e-12);
    // A true difference on a limit, the other limit out of reach: equivalence is declared at the level.
    const onLimit = { kind: 'paired', difference: 1, low: -50, high: 1, standardDeviation: 1 } as const;
    expect(equivalencePower(8, onLimit).power).toAgreeWithin(0.05, 1e-10);
  });

  it('of two one-sided tests with a far limit is that of one t test', () => {
    const design = { kind: 'paired', difference: 0, low: -60, high: 1, standardDeviation: 1 } as const;
    const single = { kind: 'paired', difference: 1, standardDeviation: 1, sides: 1 } as const;
    expect(equivalencePower(8, design).power).toAgreeWithin(tTestPower(8, single).power, 1e-10);
  });

  it('of Welch with equal large groups tends to that of the pooled test', () => {
    const pooled = tTestPower(200, { kind: 'two-sample', difference: 0.3, standardDeviation: 1 }).power;
    const welch = welchPower(200, 200, { difference: 0.3, standardDeviations: [1, 1] }).power;
    expect(welch).toAgreeWithin(pooled, 1e-4);
  });

  it('is refused where the limits or the difference make no sense', () => {
    const design = { kind: 'paired', difference: 2, low: -1, high: 1, standardDeviation: 1 } as const;
    expect(() => equivalenceSampleSize(0.9, design)).toThrow(/between -1 and 1/);
    expect(() => tTestSampleSize(0.9, { kind: 'paired', difference: 0, standardDeviation: 1 })).toThrow();
    expect(() => varianceRatioLimitSampleSize(0.9, 2, { ratio: 2.5 })).toThrow(/expected 0.9/);
  });
});

describe('sample sizes are the smallest that reach the power', () => {
  it.each([0.8, 0.9, 0.95])('for a power of %d', (wanted) => {
    const t = { kind: 'two-sample', difference: 1, standardDeviation: 1.3 } as const;
    const n = tTestSampleSize(wanted, t).n;
    expect(tTestPower(n, t).power).toBeGreaterThanOrEqual(wanted);
    expect(tTestPower(n - 1, t).power).toBeLessThan(wanted);
    const welch = { difference: 1, standardDeviations: [0.5, 1] } as const;
    const w = welchSampleSize(wanted, welch).n;
    expect(welchPower(w, w, welch).power).toBeGreaterThanOrEqual(wanted);
    expect(welchPower(w - 1, w - 1, welch).power).toBeLessThan(wanted);
    const f = varianceRatioSampleSize(wanted, { ratio: 3 }).n;
    expect(varianceRatioPower(f - 1, f - 1, { ratio: 3 }).power).toBeGreaterThanOrEqual(wanted);
    expect(varianceRatioPower(f - 2, f - 2, { ratio: 3 }).power).toBeLessThan(wanted);
  });

  it('margin 1 %, shift 0.2 %, s 1 %, power 90 %: 28 results before and after', () => {
    const design = { kind: 'two-sample', difference: 0.2, low: -1, high: 1, standardDeviation: 1 } as const;
    const found = equivalenceSampleSize(0.9, design);
    expect(found.n).toBe(28);
    expect(equivalencePower(27, design).power).toBeLessThan(0.9);
  });
});
