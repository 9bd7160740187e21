import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import {
  betaCdf,
  betaQuantile,
  betaSurvival,
  betaUpperQuantile,
} from '../../../src/statistics/distributions/beta.js';
import {
  chiSquaredCdf,
  chiSquaredQuantile,
  chiSquaredSurvival,
  chiSquaredUpperQuantile,
} from '../../../src/statistics/distributions/chi-squared.js';
import { fCdf, fQuantile, fSurvival, fUpperQuantile } from '../../../src/statistics/distributions/f.js';
import {
  detectionDelta,
  noncentralTCdf,
  noncentralTQuantile,
  noncentralTSurvival,
} from '../../../src/statistics/distributions/noncentral-t.js';
import {
  normalCdf,
  normalQuantile,
  normalSurvival,
  normalUpperQuantile,
} from '../../../src/statistics/distributions/normal.js';
import {
  studentTCdf,
  studentTQuantile,
  studentTSurvival,
  studentTUpperQuantile,
} from '../../../src/statistics/distributions/student-t.js';

interface Distribution {
  readonly name: string;
  cdf(x: number, ...parameters: number[]): number;
  survival(x: number, ...parameters: number[]): number;
  quantile(p: number, ...parameters: number[]): number;
  upperQuantile?(p: number, ...parameters: number[]): number;
  readonly parameters: readonly fc.Arbitrary<number>[];
  readonly support: readonly [number, number];
  /** Parameters that must be refused. */
  readonly refused: readonly (readonly number[])[];
}

const infinity = Number.POSITIVE_INFINITY;
const nan = Number.NaN;

/** Numbers spread evenly over the logarithm. */
const logarithmic = (low: number, high: number) =>
  fc.double({ min: Math.log(low), max: Math.log(high), noNaN: true }).map(Math.exp);
const degrees = logarithmic(0.5, 1e5);
/** Probabilities down to 1e-100 and up to nearly 1. */
const probability = fc.oneof(
  logarithmic(1e-100, 0.5),
  logarithmic(1e-12, 0.5).map((p) => 1 - p),
  fc.double({ min: 0.01, max: 0.99, noNaN: true }),
);

const distributions: Distribution[] = [
  {
    name: 'normal',
    cdf: normalCdf,
    survival: normalSurvival,
    quantile: normalQuantile,
    upperQuantile: normalUpperQuantile,
    parameters: [],
    support: [-infinity, infinity],
    refused: [],
  },
  {
    name: 't',
    cdf: studentTCdf,
    survival: studentTSurvival,
    quantile: studentTQuantile,
    upperQuantile: studentTUpperQuantile,
    parameters: [fc.oneof(degrees, fc.constant(infinity))],
    support: [-infinity, infinity],
    refused: [[0], [-1], [nan]],
  },
  {
    name: 'chi-squared',
    cdf: chiSquaredCdf,
    survival: chiSquaredSurvival,
    quantile: chiSquaredQuantile,
    upperQuantile: chiSquaredUpperQuantile,
    parameters: [degrees],
    support: [0, infinity],
    refused: [[0], [-1], [nan], [infinity]],
  },
  {
    name: 'F',
    cdf: fCdf,
    survival: fSurvival,
    quantile: fQuantile,
    upperQuantile: fUpperQuantile,
    parameters: [degrees, fc.oneof(degrees, fc.constant(infinity))],
    support: [0, infinity],
    refused: [
      [0, 1],
      [1, 0],
      [nan, 1],
      [1, nan],
      [infinity, infinity],
    ],
  },
  {
    name: 'beta',
    cdf: betaCdf,
    survival: betaSurvival,
    quantile: betaQuantile,
    upperQuantile: betaUpperQuantile,
    parameters: [logarithmic(0.5, 1e4), logarithmic(0.5, 1e4)],
    support: [0, 1],
    refused: [
      [0, 1],
      [1, -1],
      [nan, 1],
      [1, infinity],
    ],
  },
  {
    name: 'noncentral t',
    cdf: noncentralTCdf,
    survival: noncentralTSurvival,
    quantile: noncentralTQuantile,
    parameters: [logarithmic(1, 1000), fc.double({ min: -12, max: 12, noNaN: true })],
    support: [-infinity, infinity],
    refused: [
      [0, 1],
      [nan, 1],
      [3, nan],
      [3, infinity],
    ],
  },
];

/** What the rounding of the quantile itself may cost a tail, relative. */
const conditioning = 1e-11;

describe.each(distributions)('the $name distribution', (distribution) => {
  const { cdf, survival, quantile, upperQuantile, support, refused } = distribution;
  const parameters = fc.tuple(...distribution.parameters);
  const runs = { numRuns: distribution.name === 'noncentral t' ? 60 : 300 };

  it('returns to the probability it started from, in both tails', () => {
    fc.assert(
      fc.property(probability, parameters, (p, values) => {
        const x = quantile(p, ...values);
        if (x === 0 || x === support[1]) return;
        if (p <= 0.5) expect(cdf(x, ...values)).toAgreeWithin(p, conditioning);
        // Of a beta variable near 1 it is 1 − x that rounds.
        else if (support[1] !== 1 || x < 0.999)
          expect(survival(x, ...values)).toAgreeWithin(1 - p, conditioning);
      }),
      runs,
    );
  });

  if (upperQuantile) {
    it('has an upper quantile that returns to small probabilities', () => {
      fc.assert(
        fc.property(logarithmic(1e-100, 0.5), parameters, (p, values) => {
          const x = upperQuantile(p, ...values);
          if (support[1] === 1 && x > 0.999) return;
          if (x === 0 || x === support[1]) return;
          expect(survival(x, ...values)).toAgreeWithin(p, conditioning);
        }),
        runs,
      );
    });
  }

  it('has tails that add to 1 and lie between 0 and 1', () => {
    fc.assert(
      fc.property(probability, parameters, (p, values) => {
        const x = quantile(p, ...values);
        const [lower, upper] = [cdf(x, ...values), survival(x, ...values)];
        expect(lower).toBeGreaterThanOrEqual(0);
        expect(upper).toBeGreaterThanOrEqual(0);
        expect(Math.abs(lower + upper - 1)).toBeLessThan(1e-14);
      }),
      runs,
    );
  });

  it('does not fall as x or p grows', () => {
    fc.assert(
      fc.property(probability, probability, parameters, (p, q, values) => {
        const [low, high] = p < q ? [p, q] : [q, p];
        const [from, to] = [quantile(low, ...values), quantile(high, ...values)];
        expect(from).toBeLessThanOrEqual(to + Math.abs(to) * 1e-13);
        expect(cdf(from, ...values)).toBeLessThanOrEqual(cdf(to, ...values) * (1 + 1e-13));
        expect(survival(from, ...values) * (1 + 1e-13)).toBeGreaterThanOrEqual(survival(to, ...values));
      }),
      runs,
    );
  });

  it('has the limits 0 and 1 at the ends of its support', () => {
    fc.assert(
      fc.property(parameters, (values) => {
        expect([cdf(support[0], ...values), survival(support[0], ...values)]).toEqual([0, 1]);
        expect([cdf(support[1], ...values), survival(support[1], ...values)]).toEqual([1, 0]);
      }),
      runs,
    );
  });

  it('refuses what is no number, no probability or no parameter', () => {
    const [values] = fc.sample(parameters, 1);
    for (const f of [cdf, survival]) expect(() => f(nan, ...values!)).toThrow(InputError);
    for (const f of [quantile, upperQuantile ?? quantile]) {
      for (const p of [0, 1, -0.1, 1.1, nan]) expect(() => f(p, ...values!)).toThrow(InputError);
      for (const wrong of refused) expect(() => f(0.3, ...wrong)).toThrow(InputError);
    }
    for (const wrong of refused) expect(() => cdf(0.3, ...wrong)).toThrow(InputError);
  });
});

describe('relations between distributions', () => {
  const x = fc.double({ min: -50, max: 50, noNaN: true });

  it('the normal, t and noncentral t are mirror images of themselves', () => {
    fc.assert(
      fc.property(x, degrees, fc.double({ min: -8, max: 8, noNaN: true }), (t, nu, delta) => {
        expect(normalCdf(-t)).toBe(normalSurvival(t));
        expect(studentTCdf(-t, nu)).toBe(studentTSurvival(t, nu));
        if (nu < 1000) expect(noncentralTCdf(-t, nu, -delta)).toBe(noncentralTSurvival(t, nu, delta));
      }),
      { numRuns: 100 },
    );
  });

  it('F of 1/x with the degrees exchanged is the other tail; so is beta of 1 − x', () => {
    fc.assert(
      fc.property(logarithmic(1e-3, 1e3), degrees, degrees, (f, a, b) => {
        expect(fCdf(f, a, b)).toAgreeWithin(fSurvival(1 / f, b, a), 1e-9);
        const share = f / (1 + f);
        expect(Math.abs(betaCdf(share, a, b) - betaSurvival(1 - share, b, a))).toBeLessThan(1e-9);
      }),
    );
  });

  it('t² is F with one degree of freedom; F with many tends to χ²/ν; t with many tends to the normal', () => {
    fc.assert(
      fc.property(logarithmic(0.01, 30), degrees, (t, nu) => {
        expect(2 * studentTSurvival(t, nu)).toAgreeWithin(fSurvival(t * t, 1, nu), 1e-11);
        expect(fSurvival(t, nu, infinity)).toAgreeWithin(chiSquaredSurvival(t * nu, nu), 1e-10);
        expect(fSurvival(t, infinity, nu)).toAgreeWithin(chiSquaredCdf(nu / t, nu), 1e-10);
      }),
    );
    expect(studentTQuantile(0.975, 1e9)).toAgreeWithin(normalQuantile(0.975), 2e-9);
    expect(studentTQuantile(0.975, infinity)).toBe(normalQuantile(0.975));
  });

  it('closed forms: χ² with 2, t with 1 and 2 degrees of freedom, beta with a shape of 1', () => {
    fc.assert(
      fc.property(logarithmic(1e-6, 600), fc.double({ min: 0.01, max: 0.99, noNaN: true }), (v, p) => {
        expect(chiSquaredSurvival(v, 2)).toAgreeWithin(Math.exp(-v / 2), 2e-13);
        expect(studentTSurvival(v, 1)).toAgreeWithin(Math.atan(1 / v) / Math.PI, 1e-14);
        const root = Math.sqrt(2 + v * v);
        expect(studentTSurvival(v, 2)).toAgreeWithin(1 / (root * (root + v)), 1e-14);
        expect(betaSurvival(p, 1, v)).toAgreeWithin((1 - p) ** v, 1e-12);
      }),
    );
  });

  it('a noncentrality of 0 gives the t distribution, infinite degrees of freedom a shifted normal', () => {
    expect(noncentralTCdf(1.3, 7, 0)).toBe(studentTCdf(1.3, 7));
    expect(noncentralTCdf(1.3, infinity, 0.4)).toAgreeWithin(normalCdf(0.9), 1e-15);
    expect(noncentralTCdf(1e-12, 7, 0.4)).toAgreeWithin(normalCdf(-0.4), 1e-11);
  });

  it('at δ(ν, α, β) the test misses with probability β', () => {
    fc.assert(
      fc.property(logarithmic(1, 500), logarithmic(1e-4, 0.3), logarithmic(1e-4, 0.3), (nu, alpha, beta) => {
        const delta = detectionDelta(nu, alpha, beta);
        expect(noncentralTCdf(studentTUpperQuantile(alpha, nu), nu, delta)).toAgreeWithin(beta, 1e-9);
      }),
      { numRuns: 40 },
    );
    expect(() => detectionDelta(5, 0.6, 0.5)).toThrow(/sum below 1/);
    expect(detectionDelta(infinity, 0.05, 0.05)).toAgreeWithin(2 * normalQuantile(0.95), 1e-15);
  });

  it('a t quantile beyond the range of numbers is refused, one just within is given', () => {
    expect(() => studentTQuantile(1e-300, 0.5)).toThrow(/beyond the range/);
    expect(studentTQuantile(1e-300, 1)).toAgreeWithin(-1 / (Math.PI * 1e-300), 1e-13);
    expect(studentTCdf(-1e200, 1)).toAgreeWithin(1e-200 / Math.PI, 1e-12);
  });
});
