import { jStat } from 'jstat';
import { median as packageMedian, probit } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { median } from '../../src/statistics/descriptive/median.js';
import { betaQuantile } from '../../src/statistics/distributions/beta.js';
import { chiSquaredQuantile } from '../../src/statistics/distributions/chi-squared.js';
import { fQuantile } from '../../src/statistics/distributions/f.js';
import { noncentralTCdf } from '../../src/statistics/distributions/noncentral-t.js';
import { normalQuantile } from '../../src/statistics/distributions/normal.js';
import { studentTQuantile } from '../../src/statistics/distributions/student-t.js';
import { readReference } from '../support/reference-sets.js';

const error = (found: number, reference: number) => Math.abs(found / reference - 1);

// References: R 4.2.2, closed forms, and an integral of the definition.
describe('jstat and simple-statistics beside our own functions', () => {
  it('the t quantile of jstat stops at eight or nine digits, ours does not', () => {
    // t(0.975, 10) by R 4.2.2; t(0.975, 1) = tan(0.475π); t(p, 2) = (2p − 1)·√(2/(4p(1 − p))).
    const cases = [
      [0.975, 10, 2.2281388519862739],
      [0.975, 1, Math.tan(0.475 * Math.PI)],
      [0.9, 2, 0.8 * Math.sqrt(2 / 0.36)],
    ] as const;
    for (const [p, nu, reference] of cases)
      expect(error(studentTQuantile(p, nu), reference)).toBeLessThan(1e-13);
    const worst = Math.max(...cases.map(([p, nu, reference]) => error(jStat.studentt.inv(p, nu), reference)));
    expect(worst).toBeGreaterThan(1e-9);
    expect(worst).toBeLessThan(1e-6);
  });

  it('the probit of simple-statistics is good for display only, ours for a budget', () => {
    const reference = 1.959963984540054;
    expect(error(normalQuantile(0.975), reference)).toBeLessThan(1e-15);
    expect(error(probit(0.975), reference)).toBeGreaterThan(1e-4);
  });

  it('the noncentral t of jstat loses a far lower tail, ours keeps it', () => {
    // P(T ≤ −6 | ν = 10, δ = 5): the integral of Φ(−6 s − 5) over s = √(χ²/10), by the trapezoidal rule over 40 000 steps.
    const reference = lowerTail(-6, 10, 5);
    expect(error(noncentralTCdf(-6, 10, 5), reference)).toBeLessThan(1e-9);
    expect(error(jStat.noncentralt.cdf(-6, 10, 5), reference)).toBeGreaterThan(100);
  });

  it('starting values by jstat are good enough to start from: χ² agrees with its closed form at two degrees of freedom', () => {
    for (const p of [0.01, 0.5, 0.95, 0.999]) {
      const reference = -2 * Math.log(1 - p);
      expect(error(chiSquaredQuantile(p, 2), reference)).toBeLessThan(1e-14);
      expect(error(jStat.chisquare.inv(p, 2), reference)).toBeLessThan(1e-6);
    }
  });

  it('jstat is near enough to start from where it is asked, and not the last word: worst errors over the reference', () => {
    const { functions } = readReference<{
      functions: Record<string, { rows: [...number[], string][] }>;
    }>('statistics/distributions');
    const worst = (name: string, f: (...values: number[]) => number) => {
      const errors = functions[name]!.rows.map((row) => {
        const reference = Number(row.at(-1));
        const found = f(...(row.slice(0, -1) as number[]));
        return reference === 0 ? Math.abs(found) : error(found, reference);
      });
      return Math.max(...errors.map((e) => (Number.isNaN(e) ? Number.POSITIVE_INFINITY : e)));
    };
    const pairs = {
      qnorm: [worst('qnorm', (p) => normalQuantile(p!)), worst('qnorm', (p) => jStat.normal.inv(p!, 0, 1))],
      qt: [
        worst('qt', (p, nu) => studentTQuantile(p!, nu!)),
        worst('qt', (p, nu) => jStat.studentt.inv(p!, nu!)),
      ],
      qchisq: [
        worst('qchisq', (p, nu) => chiSquaredQuantile(p!, nu!)),
        worst('qchisq', (p, nu) => jStat.chisquare.inv(p!, nu!)),
      ],
      qf: [
        worst('qf', (p, a, b) => fQuantile(p!, a!, b!)),
        worst('qf', (p, a, b) => jStat.centralF.inv(p!, a!, b!)),
      ],
      qbeta: [
        worst('qbeta', (p, a, b) => betaQuantile(p!, a!, b!)),
        worst('qbeta', (p, a, b) => jStat.beta.inv(p!, a!, b!)),
      ],
    };
    for (const [name, [ours, theirs]] of Object.entries(pairs)) {
      expect(ours, name).toBeLessThan(1e-12);
      expect(theirs, name).toBeGreaterThan(1e-12);
    }
    // Two steps of Newton's method from 1e-3 reach full precision; the starts for χ², beta and the normal are nearer.
    expect(pairs.qchisq[1]).toBeLessThan(1e-8);
    expect(pairs.qbeta[1]).toBeLessThan(1e-6);
    expect(pairs.qnorm[1]).toBeLessThan(0.02);
  });

  it('the median of simple-statistics and ours are one', () => {
    for (const values of [
      [3, 1, 2],
      [4, 1, 3, 2],
      [0.1, 0.1, 0.3],
    ])
      expect(median(values)).toBe(packageMedian(values));
  });
});

/** Φ(x) far below zero by its continued fraction, independent of the code under test. */
function lowerNormal(x: number): number {
  let fraction = 0;
  for (let k = 200; k >= 1; k--) fraction = k / (-x + fraction);
  return Math.exp(-(x * x) / 2) / Math.sqrt(2 * Math.PI) / (-x + fraction);
}

function lowerTail(t: number, nu: number, delta: number): number {
  // Density of s for ν = 10: 2·5⁵/4!·s⁹·e^(−5 s²).
  const density = (s: number) => ((2 * 5 ** 5) / 24) * s ** 9 * Math.exp((-nu / 2) * s * s);
  const step = 4 / 40_000;
  let sum = 0;
  for (let i = 1; i < 40_000; i++) sum += lowerNormal(t * i * step - delta) * density(i * step);
  return sum * step;
}
