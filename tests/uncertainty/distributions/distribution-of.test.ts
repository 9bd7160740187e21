import { describe, expect, it } from 'vitest';
import { curvilinearTrapezoidDistribution } from '../../../src/uncertainty/distributions/curvilinear-trapezoid.js';
import { distributionOf } from '../../../src/uncertainty/distributions/distribution-of.js';
import { exponentialDistribution } from '../../../src/uncertainty/distributions/exponential.js';
import { gammaFromCountsDistribution } from '../../../src/uncertainty/distributions/gamma-from-counts.js';
import { lognormalDistribution } from '../../../src/uncertainty/distributions/lognormal.js';
import { sampleDistribution } from '../../../src/uncertainty/distributions/sample.js';
import { tDistribution } from '../../../src/uncertainty/distributions/student-t.js';
import { trapezoidalDistribution } from '../../../src/uncertainty/distributions/trapezoidal.js';
import { triangularDistribution } from '../../../src/uncertainty/distributions/triangular.js';
import type { Distribution } from '../../../src/uncertainty/input-quantity.js';
import { input } from '../../support/input.js';

describe('distributions', () => {
  it('know no standard deviation of a t distribution with two degrees of freedom or fewer', () => {
    expect(tDistribution(0, 1, 2).standardDeviation).toBe(Infinity);
    expect(tDistribution(0, 1, 3).standardDeviation).toAgreeWithin(Math.sqrt(3), 1e-14);
  });

  it('make a trapezoid with no top a triangle', () => {
    const [trapezoid, triangle] = [trapezoidalDistribution(0, 2, 0), triangularDistribution(0, 2)];
    for (const x of [-1.9, -0.3, 0, 1.2]) {
      expect(trapezoid.cdf(x)).toAgreeWithin(triangle.cdf(x), 1e-14);
      expect(trapezoid.density(x)).toAgreeWithin(triangle.density(x), 1e-14);
    }
  });

  it('give a curvilinear trapezoid the spread of limits that are rectangular themselves', () => {
    // Centre + h·(uniform on [-1, 1]) with h uniform on w ± d has the variance E[h²]/3 = (w² + d²/3)/3.
    const { standardDeviation } = curvilinearTrapezoidDistribution(5, 2, 0.5);
    expect(standardDeviation ** 2).toAgreeWithin((2 ** 2 + 0.5 ** 2 / 3) / 3, 1e-14);
  });

  it('make a gamma distribution from no counts an exponential one', () => {
    const [gamma, exponential] = [gammaFromCountsDistribution(2, 0), exponentialDistribution(2)];
    for (const x of [0.1, 1, 5]) expect(gamma.cdf(x)).toAgreeWithin(exponential.cdf(x), 1e-13);
  });

  it('put the median of a lognormal distribution at mean/√(1 + u²/mean²)', () => {
    expect(lognormalDistribution(10, 4).quantile(0.5)).toAgreeWithin(10 / Math.sqrt(1.16), 1e-14);
  });

  it('count a sample', () => {
    const sample = sampleDistribution([3, 1, 2, 2]);
    expect([0, 1, 2, 2.5, 3].map(sample.cdf)).toEqual([0, 0.25, 0.75, 0.75, 1]);
    expect([0.25, 0.26, 0.75, 0.76].map(sample.quantile)).toEqual([1, 2, 2, 3]);
    expect(sample.survival(2)).toBe(0.25);
    expect(() => sample.density(2)).toThrow('no density');
    expect(() => sampleDistribution([2, 2])).toThrow('equal values');
    expect(() => sampleDistribution([2])).toThrow('at least 2');
  });
});

describe('distributionOf', () => {
  const cases: [Distribution, number, number][] = [
    [{ kind: 'normal' }, 5, 0.7],
    [{ kind: 't' }, 5, 0.7],
    [{ kind: 'rectangular', halfWidth: 3 }, 5, Math.sqrt(3)],
    [{ kind: 'triangular', halfWidth: 3 }, 5, Math.sqrt(1.5)],
    [{ kind: 'trapezoidal', halfWidth: 3, topHalfWidth: 1 }, 5, Math.sqrt(10 / 6)],
    [{ kind: 'curvilinear trapezoid', halfWidth: 3, halfWidthUncertainty: 0.6 }, 5, Math.sqrt(3 + 0.04)],
    [{ kind: 'arcsine', halfWidth: 3 }, 5, 3 / Math.SQRT2],
    [{ kind: 'exponential' }, 5, 5],
    [{ kind: 'lognormal' }, 5, 2],
    [{ kind: 'gamma from counts', counts: 24 }, 5, 1],
    [{ kind: 'sample', values: [3, 5, 7] }, 5, 2],
  ];

  it.each(cases)('makes the distribution %o', (distribution, estimate, u) => {
    const made = distributionOf(input('x', estimate, u, { distribution, degreesOfFreedom: 9 }));
    expect(made.mean).toAgreeWithin(estimate, 1e-14);
    const expected = distribution.kind === 't' ? u * Math.sqrt(9 / 7) : u;
    expect(made.standardDeviation).toAgreeWithin(expected, 1e-13);
  });

  it.each(cases.slice(2).filter(([{ kind }]) => kind !== 'lognormal'))(
    'refuses an uncertainty that %o does not have',
    (distribution, estimate, u) => {
      const wrong = input('x', estimate, u * 1.001, { distribution });
      expect(() => distributionOf(wrong)).toThrow(`input "x": found standard uncertainty ${u * 1.001}`);
    },
  );

  it.each([
    [{ kind: 'normal' }, 5, 0, 'standard uncertainty: found 0'],
    [{ kind: 'rectangular', halfWidth: 0 }, 5, 0, 'half-width: found 0'],
    [{ kind: 'rectangular', halfWidth: -1 }, 5, 1, 'half-width: found -1'],
    [{ kind: 'trapezoidal', halfWidth: 1, topHalfWidth: 1 }, 5, 1, 'half-width of the top: found 1'],
    [
      { kind: 'curvilinear trapezoid', halfWidth: 1, halfWidthUncertainty: 1 },
      5,
      1,
      'found 1, expected below',
    ],
    [{ kind: 'exponential' }, -5, 5, 'expected a finite number above 0'],
    [{ kind: 'lognormal' }, 0, 5, 'expected a finite number above 0'],
    [{ kind: 'gamma from counts', counts: 1.5 }, 5, 5, 'counts: found 1.5'],
    [{ kind: 'sample', values: [1, 3] }, 5, Math.SQRT2, 'has the mean 2'],
  ] as [Distribution, number, number, string][])(
    'refuses %o at %d ± %d',
    (distribution, estimate, u, message) => {
      expect(() => distributionOf(input('x', estimate, u, { distribution }))).toThrow(message);
    },
  );
});
