import { describe, expect, it } from 'vitest';
import { arcsineDistribution } from '../../../src/uncertainty/distributions/arcsine.js';
import { curvilinearTrapezoidDistribution } from '../../../src/uncertainty/distributions/curvilinear-trapezoid.js';
import { exponentialDistribution } from '../../../src/uncertainty/distributions/exponential.js';
import { gammaFromCountsDistribution } from '../../../src/uncertainty/distributions/gamma-from-counts.js';
import { lognormalDistribution } from '../../../src/uncertainty/distributions/lognormal.js';
import { normalDistribution } from '../../../src/uncertainty/distributions/normal.js';
import type { ProbabilityDistribution } from '../../../src/uncertainty/distributions/probability-distribution.js';
import { rectangularDistribution } from '../../../src/uncertainty/distributions/rectangular.js';
import { tDistribution } from '../../../src/uncertainty/distributions/student-t.js';
import { trapezoidalDistribution } from '../../../src/uncertainty/distributions/trapezoidal.js';
import { triangularDistribution } from '../../../src/uncertainty/distributions/triangular.js';

const family: [string, ProbabilityDistribution][] = [
  ['normal', normalDistribution(10, 2)],
  ['t with 7', tDistribution(10, 2, 7)],
  ['t with infinite', tDistribution(10, 2, Infinity)],
  ['rectangular', rectangularDistribution(10, 2)],
  ['triangular', triangularDistribution(10, 2)],
  ['trapezoidal', trapezoidalDistribution(10, 2, 0.7)],
  ['trapezoidal with no top', trapezoidalDistribution(10, 2, 0)],
  ['curvilinear trapezoid', curvilinearTrapezoidDistribution(10, 2, 0.5)],
  ['arcsine', arcsineDistribution(10, 2)],
  ['exponential', exponentialDistribution(3)],
  ['lognormal', lognormalDistribution(10, 4)],
  ['gamma from 4 counts', gammaFromCountsDistribution(10, 4)],
  ['gamma from 0 counts', gammaFromCountsDistribution(2, 0)],
];

const probabilities = [1e-9, 1e-4, 0.01, 0.025, 0.2, 0.45, 0.5, 0.55, 0.8, 0.975, 0.99, 0.9999];

/** Integral of g times the density over x = middle + half·sin(s): dense where limits are sharp. */
function integral(distribution: ProbabilityDistribution, g: (x: number) => number): number {
  const [low, high] = [distribution.quantile(1e-13), distribution.quantile(1 - 1e-13)];
  const [middle, half] = [(low + high) / 2, (high - low) / 2];
  const n = 400_000;
  let sum = 0;
  for (let k = 0; k < n; k++) {
    const s = (Math.PI / 2) * ((2 * k + 1) / n - 1);
    const x = middle + half * Math.sin(s);
    sum += g(x) * distribution.density(x) * half * Math.cos(s) * (Math.PI / n);
  }
  return sum;
}

describe.each(family)('the %s distribution', (name, distribution) => {
  it('has a quantile that its cdf takes back, to the neighbouring number', () => {
    for (const p of probabilities) {
      const x = distribution.quantile(p);
      const neighbour = Math.abs(x) * 2 * Number.EPSILON;
      expect(distribution.cdf(x - neighbour)).toBeLessThanOrEqual(p * (1 + 1e-11));
      expect(distribution.cdf(x + neighbour)).toBeGreaterThanOrEqual(p * (1 - 1e-11));
    }
  });

  it('has a survival that complements its cdf', () => {
    for (const p of probabilities) {
      const x = distribution.quantile(p);
      expect(distribution.survival(x) + distribution.cdf(x)).toAgreeWithin(1, 1e-13);
    }
  });

  it('has a density that is the slope of its cdf', () => {
    for (const p of [0.01, 0.2, 0.45, 0.6, 0.8, 0.975]) {
      const x = distribution.quantile(p);
      const step = (1e-4 / distribution.density(x)) * Math.min(p, 1 - p);
      const slope = (distribution.cdf(x + step) - distribution.cdf(x - step)) / (2 * step);
      expect(distribution.density(x)).toAgreeWithin(slope, 2e-7);
    }
  });

  it('has the mean and standard deviation it states', () => {
    expect(integral(distribution, () => 1)).toAgreeWithin(1, 1e-6);
    expect(integral(distribution, (x) => x)).toAgreeWithin(distribution.mean, 1e-6);
    const variance = integral(distribution, (x) => (x - distribution.mean) ** 2);
    // The t distribution has part of its variance beyond the tails that the sum leaves out.
    const allowed = name === 't with 7' ? 1e-4 : 1e-6;
    expect(Math.sqrt(variance)).toAgreeWithin(distribution.standardDeviation, allowed);
  });

  it('rises, and ends at its limits', () => {
    const points = probabilities.map((p) => distribution.quantile(p));
    expect([...points].sort((a, b) => a - b)).toEqual(points);
    expect(points[0]!).toBeGreaterThanOrEqual(distribution.lower);
    expect(points.at(-1)!).toBeLessThanOrEqual(distribution.upper);
    for (const [end, side] of [
      [distribution.lower, -1],
      [distribution.upper, 1],
    ] as const) {
      if (!Number.isFinite(end)) continue;
      expect(distribution.cdf(end + side)).toBe(side < 0 ? 0 : 1);
      expect(distribution.survival(end + side)).toBe(side < 0 ? 1 : 0);
      expect(distribution.density(end + side)).toBe(0);
    }
  });

  it('refuses a probability that is none', () => {
    for (const p of [0, 1, -0.1, Number.NaN]) {
      expect(() => distribution.quantile(p)).toThrow('between 0 and 1');
    }
  });
});

describe('symmetric distributions', () => {
  it.each(family.slice(0, 9))('mirror their tails: %s', (_name, distribution) => {
    for (const p of [1e-9, 0.01, 0.3]) {
      const x = distribution.quantile(p);
      expect(distribution.survival(20 - x)).toAgreeWithin(distribution.cdf(x), 1e-6);
    }
  });
});
