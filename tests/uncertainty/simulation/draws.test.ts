import { describe, expect, it } from 'vitest';
import { chiSquaredQuantile } from '../../../src/statistics/distributions/chi-squared.js';
import { distributionOf } from '../../../src/uncertainty/distributions/distribution-of.js';
import { impliedStandardUncertainty } from '../../../src/uncertainty/distributions/distribution-parameters.js';
import type { Distribution, InputQuantity } from '../../../src/uncertainty/input-quantity.js';
import { trialsPerBlock } from '../../../src/uncertainty/simulation/draws/block-stream.js';
import { inputDraws } from '../../../src/uncertainty/simulation/draws/input-draws.js';
import { simulateInThread } from '../../../src/uncertainty/simulation/simulate.js';
import { input } from '../../support/input.js';
import { model } from '../../support/model.js';

function drawn(quantity: InputQuantity, blocks: number, seed = 11): Float64Array {
  const all = new Float64Array(blocks * trialsPerBlock);
  const column = new Float64Array(trialsPerBlock);
  const [draw] = inputDraws([quantity], [], seed, [column]);
  for (let block = 0; block < blocks; block++) {
    draw!(block);
    all.set(column, block * trialsPerBlock);
  }
  return all;
}

/** Pearson's statistic over cells of equal probability, against its quantile for a one in 10⁵ false alarm. */
function expectShape(values: Float64Array, cells: number, cdf: (x: number) => number): void {
  const counts = new Int32Array(cells);
  for (const value of values) counts[Math.min(cells - 1, Math.floor(cdf(value) * cells))]!++;
  const expected = values.length / cells;
  const statistic = counts.reduce((sum, count) => sum + (count - expected) ** 2 / expected, 0);
  expect(statistic).toBeLessThan(chiSquaredQuantile(1 - 1e-5, cells - 1));
  expect(statistic).toBeGreaterThan(chiSquaredQuantile(1e-5, cells - 1));
}

const withParameters = (name: string, estimate: number, distribution: Distribution): InputQuantity =>
  input(name, estimate, impliedStandardUncertainty(distribution, estimate)!, { distribution });
const studentT = (degreesOfFreedom: number): InputQuantity =>
  input(`t${degreesOfFreedom}`.replace('.', '_'), 3, 0.2, {
    degreesOfFreedom,
    distribution: { kind: 't' },
  });

const quantities: InputQuantity[] = [
  input('normal', 10, 2),
  studentT(3),
  studentT(4.6),
  studentT(9),
  studentT(40),
  studentT(1e6),
  withParameters('rectangular', 1, { kind: 'rectangular', halfWidth: 0.3 }),
  withParameters('triangular', 1, { kind: 'triangular', halfWidth: 0.3 }),
  withParameters('trapezoidal', -1, { kind: 'trapezoidal', halfWidth: 0.3, topHalfWidth: 0.1 }),
  withParameters('curvilinear', 1, {
    kind: 'curvilinear trapezoid',
    halfWidth: 0.3,
    halfWidthUncertainty: 0.1,
  }),
  withParameters('arcsine', 20, { kind: 'arcsine', halfWidth: 0.5 }),
  withParameters('exponential', 2, { kind: 'exponential' }),
  input('lognormal', 1, 0.4, { distribution: { kind: 'lognormal' } }),
  withParameters('counts0', 0.5, { kind: 'gamma from counts', counts: 0 }),
  withParameters('counts9', 5, { kind: 'gamma from counts', counts: 9 }),
];

describe.each(quantities.map((quantity) => [quantity.name, quantity] as const))(
  'draws: %s',
  (_, quantity) => {
    const distribution = distributionOf(quantity);
    const options = { seed: 4, trials: 150_000 };
    const output = simulateInThread(model({ y: quantity.name }), [quantity], [], options).outputs[0]!;
    const error = output.numericalStandardErrors;

    it('have the mean and standard deviation of the distribution', () => {
      expect(Math.abs(output.estimate - distribution.mean)).toBeLessThan(4 * error.estimate);
      // The variance of s has no value for ν ≤ 4: one huge trial may carry it.
      const allowed =
        quantity.degreesOfFreedom <= 5
          ? 0.05 * distribution.standardDeviation
          : 4 * error.standardUncertainty!;
      expect(Math.abs(output.standardUncertainty! - distribution.standardDeviation)).toBeLessThan(allowed);
    });

    it('have its quantiles', () => {
      const { low, high } = output.symmetric;
      expect(Math.abs(low - distribution.quantile(0.025))).toBeLessThan(4 * error.symmetricLow);
      expect(Math.abs(high - distribution.quantile(0.975))).toBeLessThan(4 * error.symmetricHigh);
    });

    it('have its shape', () => {
      expectShape(drawn(quantity, 20), 100, distribution.cdf);
    });
  },
);

describe('normal deviates', () => {
  const values = drawn(input('z', 0, 1), 500);
  const n = values.length;
  const sums = new Float64Array(9);
  for (const z of values) for (let k = 1, power = z; k <= 8; k++, power *= z) sums[k]! += power;

  it('have the shape of the normal distribution in 1000 cells', () => {
    expectShape(values, 1000, distributionOf(input('z', 0, 1)).cdf);
  });

  it('have its first eight moments', () => {
    // Variance of z^k is E z^2k − (E z^k)², with E z^2k = (2k − 1)!!.
    const doubleFactorial = (k: number): number => (k <= 1 ? 1 : k * doubleFactorial(k - 2));
    const exact = (k: number): number => (k % 2 === 1 ? 0 : doubleFactorial(k - 1));
    for (let k = 1; k <= 8; k++) {
      const standardError = Math.sqrt((exact(2 * k) - exact(k) ** 2) / n);
      expect(Math.abs(sums[k]! / n - exact(k)), `moment ${k}`).toBeLessThan(4 * standardError);
    }
  });

  it('have its tails beyond 3, 4 and 4.5 standard deviations', () => {
    const { survival } = distributionOf(input('z', 0, 1));
    for (const limit of [3, 4, 4.5]) {
      const expected = 2 * n * survival(limit);
      const found = values.reduce((count, z) => count + (Math.abs(z) > limit ? 1 : 0), 0);
      expect(Math.abs(found - expected), `beyond ${limit}`).toBeLessThan(4 * Math.sqrt(expected));
    }
  });

  it('are not correlated from trial to trial, from block to block, nor from quantity to quantity', () => {
    const correlation = (other: Float64Array, lag: number): number => {
      let sum = 0;
      for (let i = lag; i < n; i++) sum += values[i]! * other[i - lag]!;
      return sum / Math.sqrt(n);
    };
    expect(Math.abs(correlation(values, 1))).toBeLessThan(4);
    expect(Math.abs(correlation(values, trialsPerBlock))).toBeLessThan(4);
    expect(Math.abs(correlation(drawn(input('y', 0, 1), 500), 0))).toBeLessThan(4);
    expect(Math.abs(correlation(drawn(input('z', 0, 1), 500, 12), 0))).toBeLessThan(4);
  });
});

describe('t deviates', () => {
  it.each([0.7, 3, 9, 40, 1e6])('have the tails of the t distribution, ν = %d', (nu) => {
    const quantity = { ...studentT(nu), estimate: 0, standardUncertainty: 1 };
    const values = drawn(quantity, 500);
    const { quantile } = distributionOf(quantity);
    for (const tail of [1e-2, 1e-3, 1e-4, 1e-5]) {
      const limit = quantile(1 - tail);
      const expected = 2 * tail * values.length;
      const found = values.reduce((count, t) => count + (Math.abs(t) > limit ? 1 : 0), 0);
      expect(Math.abs(found - expected), `beyond ${limit}`).toBeLessThan(4 * Math.sqrt(expected));
    }
  });
});

/** Columns of many draws of quantities together. */
function jointly(
  together: readonly InputQuantity[],
  correlations: readonly { first: number; second: number; coefficient: number }[],
  blocks = 50,
): Float64Array[] {
  const columns = together.map(() => new Float64Array(trialsPerBlock));
  const all = together.map(() => new Float64Array(blocks * trialsPerBlock));
  const draws = inputDraws(together, correlations, 7, columns);
  for (let block = 0; block < blocks; block++) {
    for (const draw of draws) draw(block);
    columns.forEach((column, i) => {
      all[i]!.set(column, block * trialsPerBlock);
    });
  }
  return all;
}

function correlationOf(x: Float64Array, y: Float64Array): number {
  const mean = (v: Float64Array): number => v.reduce((sum, value) => sum + value, 0) / v.length;
  const [mx, my] = [mean(x), mean(y)];
  let [xx, yy, xy] = [0, 0, 0];
  for (let i = 0; i < x.length; i++) {
    xx += (x[i]! - mx) ** 2;
    yy += (y[i]! - my) ** 2;
    xy += (x[i]! - mx) * (y[i]! - my);
  }
  return xy / Math.sqrt(xx * yy);
}

describe('quantities drawn together', () => {
  it.each([
    [0, 6, 0.7],
    [6, 6, -0.9],
    [6, 12, 0.5],
    [11, 14, 0.6],
    [7, 10, -0.4],
  ])(
    'have the stated correlation and keep their own distributions: %d and %d at %f',
    (i, j, rho) => {
      const first = { ...quantities[i]!, name: 'first' };
      const second = { ...quantities[j]!, name: 'second' };
      const [x, y] = jointly([first, second], [{ first: 0, second: 1, coefficient: rho }]);
      expect(Math.abs(correlationOf(x!, y!) - rho)).toBeLessThan(0.01);
      expectShape(x!, 50, distributionOf(first).cdf);
      expectShape(y!, 50, distributionOf(second).cdf);
    },
    60_000,
  );

  it('of three normal quantities have the covariance matrix stated, a singular one too', () => {
    const three = ['a', 'b', 'c'].map((name) => input(name, 0, 1));
    const pairs = [
      { first: 0, second: 1, coefficient: 1 },
      { first: 0, second: 2, coefficient: -0.5 },
      { first: 1, second: 2, coefficient: -0.5 },
    ];
    const [a, b, c] = jointly(three, pairs);
    expect(a!.findIndex((value, i) => value !== b![i])).toBe(-1);
    expect(Math.abs(correlationOf(a!, c!) + 0.5)).toBeLessThan(0.01);
  });

  it('from one fit share their χ²: the multivariate t distribution', () => {
    const fit = ['a', 'b'].map((name) => ({ ...studentT(6), name, jointSource: 'line' }));
    const [a, b] = jointly(fit, []);
    expectShape(a!, 100, distributionOf(fit[0]!).cdf);
    // Uncorrelated and yet not independent: large values come together.
    expect(Math.abs(correlationOf(a!, b!))).toBeLessThan(0.02);
    const scaled = (values: Float64Array): Float64Array => values.map((x) => Math.abs(x - 3));
    const apart = ['a', 'b'].map((name) => ({ ...studentT(6), name }));
    const [c, d] = jointly(apart, []);
    // Exact: corr(|a|, |b|) = (2/π)(E s² − (E s)²)/(E s² − (2/π)(E s)²), s² = 6/χ²₆: E s² = 1.5, E s = 1.15124.
    expect(Math.abs(correlationOf(scaled(a!), scaled(b!)) - 0.1695)).toBeLessThan(0.02);
    expect(Math.abs(correlationOf(scaled(c!), scaled(d!)))).toBeLessThan(0.01);
  });

  it('from a joint sample keep the rows of the sample', () => {
    const sample = (name: string, values: readonly number[]): InputQuantity =>
      input(name, 2.5, Math.sqrt(5 / 3), { distribution: { kind: 'sample', values }, jointSource: 'rows' });
    const [a, b] = jointly([sample('a', [1, 2, 3, 4]), sample('b', [3, 1, 4, 2])], []);
    const seen = new Map<number, Set<number>>();
    a!.forEach((value, i) => {
      seen.set(value, (seen.get(value) ?? new Set()).add(b![i]!));
    });
    expect([...seen].sort().map(([value, partners]) => [value, ...partners])).toEqual([
      [1, 3],
      [2, 1],
      [3, 4],
      [4, 2],
    ]);
    expect(() => jointly([sample('a', [1, 2, 3, 4]), sample('b', [1, 2, 3])], [])).toThrow(
      'expected rows of values that belong together',
    );
  });

  it('are refused a correlation that their distributions cannot have', () => {
    const pair = [quantities[11]!, { ...quantities[11]!, name: 'other' }];
    expect(() => jointly(pair, [{ first: 0, second: 1, coefficient: -0.9 }])).toThrow(
      /it reaches -0\.6\d+ at most/,
    );
  });
});

describe('t distributions of few degrees of freedom', () => {
  it.each([0.7, 1, 2])('ν = %d: quantiles only, the median as estimate, a note says why', (nu) => {
    const quantity = studentT(nu);
    const result = simulateInThread(model({ y: quantity.name, x: 'b' }), [quantity, input('b', 1, 0.1)], [], {
      seed: 2,
      trials: 150_000,
    });
    const output = result.outputs[0]!;
    const error = output.numericalStandardErrors;
    expect(output.standardUncertainty).toBeNull();
    expect(error.standardUncertainty).toBeNull();
    expect(output.notes.join()).toContain(`no standard uncertainty exists: t distributions of 2 degrees`);
    expect(Math.abs(output.estimate - 3)).toBeLessThan(4 * error.estimate);
    const { quantile } = distributionOf(quantity);
    expect(Math.abs(output.symmetric.low - quantile(0.025))).toBeLessThan(4 * error.symmetricLow);
    expect(Math.abs(output.symmetric.high - quantile(0.975))).toBeLessThan(4 * error.symmetricHigh);
    expect(result.covariance[0]).toEqual([Number.NaN, Number.NaN]);
    expect(result.covariance[1]![1]).toAgreeWithin(0.01, 0.02);
    expect(result.outputs[1]!.notes).toEqual([]);
  });

  it('3 ≤ ν < 10: the wider distribution is announced', () => {
    const output = simulateInThread(model({ y: 't9' }), [studentT(9)], [], { seed: 2, trials: 20_000 })
      .outputs[0]!;
    expect(output.notes[0]).toContain('1.13 times the standard uncertainty');
  });
});
