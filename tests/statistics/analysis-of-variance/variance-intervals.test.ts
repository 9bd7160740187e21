import { describe, expect, it } from 'vitest';
import { graybillWangInterval } from '../../../src/statistics/analysis-of-variance/graybill-wang.js';
import { modifiedLargeSampleInterval } from '../../../src/statistics/analysis-of-variance/modified-large-sample.js';
import {
  satterthwaiteDegreesOfFreedom,
  satterthwaiteInterval,
} from '../../../src/statistics/analysis-of-variance/satterthwaite.js';
import { varianceInterval } from '../../../src/statistics/analysis-of-variance/variance-interval.js';
import { chiSquaredQuantile } from '../../../src/statistics/distributions/chi-squared.js';
import { randomStream } from '../../../src/uncertainty/random-stream.js';

// Dyestuff yield, Davies and Goldsmith 1972: 6 batches of 5. Intervals computed by independent code from the published
// formulas (remembered and recomputed).
const between = { meanSquare: 11271.5, degreesOfFreedom: 5 };
const within = { meanSquare: 2451.25, degreesOfFreedom: 24 };
const total = [
  { coefficient: 0.2, ...between },
  { coefficient: 0.8, ...within },
];

function expectInterval(found: { low: number; high: number }, low: number, high: number): void {
  expect(found.low).toAgreeWithin(low, 1e-11);
  expect(found.high).toAgreeWithin(high, 1e-11);
}

describe('intervals of variances', () => {
  it('exact χ²: the variance within batches', () => {
    expectInterval(varianceInterval(2451.25, 24).interval, 1494.50982835, 4743.91479568);
  });

  it('Satterthwaite: between batches and in total', () => {
    const ofBetween = [
      { coefficient: 0.2, ...between },
      { coefficient: -0.2, ...within },
    ];
    expect(satterthwaiteDegreesOfFreedom(ofBetween)).toAgreeWithin(3.03186726002, 1e-11);
    expectInterval(satterthwaiteInterval(ofBetween).interval, 568.50479214, 23994.0093362);
    expect(satterthwaiteDegreesOfFreedom(total)).toAgreeWithin(15.1017317819, 1e-11);
    expectInterval(satterthwaiteInterval(total).interval, 2304.20814808, 10060.9392558);
  });

  it('Graybill–Wang: the total', () => {
    expectInterval(graybillWangInterval(total).interval, 2640.80067853, 15669.1312874);
  });

  it('Graybill–Wang: the one-sided limit is the end point of the 90 % interval', () => {
    const h = (nu: number) => nu / chiSquaredQuantile(0.05, nu) - 1;
    const upper = 4215.3 + Math.hypot((h(5) * 11271.5) / 5, h(24) * 0.8 * 2451.25);
    expect(graybillWangInterval(total, 0.9).interval.high).toAgreeWithin(upper, 1e-12);
  });

  it('modified large sample: the component between batches', () => {
    const found = modifiedLargeSampleInterval(
      { coefficient: 0.2, ...between },
      { coefficient: 0.2, ...within },
    );
    expectInterval(found.interval, 306.419186847, 13045.9784109);
    expect(found.variance).toAgreeWithin(1764.05, 1e-14);
  });

  it('modified large sample: raises limits below 0 to 0 and says so', () => {
    const found = modifiedLargeSampleInterval(
      { coefficient: 0.2, meanSquare: 8.336, degreesOfFreedom: 5 },
      { coefficient: 0.2, meanSquare: 14.946, degreesOfFreedom: 24 },
    );
    expect(found.interval.low).toBe(0);
    expect(found.interval.high).toBeGreaterThan(0);
    expect(found.notes.join(' ')).toContain('raised to 0');
  });

  it('cover as promised in a design of six groups of five, at three ratios of the components', () => {
    // 1500 seeded designs a ratio: 95 % intervals cover in 1425 ± 3.3·√(1500·0.95·0.05), 1397 to 1453.
    for (const ratio of [0.25, 1, 4]) {
      const stream = randomStream(11, 'coverage', ratio);
      const counts = { within: 0, total: 0, between: 0 };
      for (let trial = 0; trial < 1500; trial++) {
        const ms = (variance: number, nu: number) => {
          let sum = 0;
          for (let i = 0; i < nu; i++) sum += stream.normal() ** 2;
          return (variance * sum) / nu;
        };
        const b = { meanSquare: ms(5 * ratio + 1, 5), degreesOfFreedom: 5 };
        const w = { meanSquare: ms(1, 24), degreesOfFreedom: 24 };
        const holds = (interval: { low: number; high: number }, truth: number) =>
          interval.low <= truth && truth <= interval.high ? 1 : 0;
        counts.within += holds(varianceInterval(w.meanSquare, 24).interval, 1);
        counts.total += holds(
          graybillWangInterval([
            { coefficient: 0.2, ...b },
            { coefficient: 0.8, ...w },
          ]).interval,
          1 + ratio,
        );
        counts.between += holds(
          modifiedLargeSampleInterval({ coefficient: 0.2, ...b }, { coefficient: 0.2, ...w }).interval,
          ratio,
        );
      }
      for (const [name, count] of Object.entries(counts)) {
        expect(count, `${name} at ${ratio}`).toBeGreaterThanOrEqual(1397);
        expect(count, `${name} at ${ratio}`).toBeLessThanOrEqual(1453);
      }
    }
  });

  it('refuse unusable terms', () => {
    expect(() => varianceInterval(-1, 5)).toThrow('variance: found -1');
    expect(() => varianceInterval(1, 0)).toThrow('degrees of freedom: found 0');
    expect(() => satterthwaiteDegreesOfFreedom([])).toThrow('terms: found none');
    expect(() => graybillWangInterval([{ coefficient: -1, ...within }])).toThrow('coefficient 1: found -1');
    expect(() =>
      modifiedLargeSampleInterval({ coefficient: 0.2, ...between }, { coefficient: -0.2, ...within }),
    ).toThrow('expected both above 0');
    expect(() =>
      satterthwaiteInterval([{ coefficient: 1, meanSquare: Number.NaN, degreesOfFreedom: 3 }]),
    ).toThrow('mean square 1');
  });
});
