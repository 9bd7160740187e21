import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deming } from '../../../src/statistics/regression/deming.js';
import { passingBablok } from '../../../src/statistics/regression/passing-bablok.js';
import { york } from '../../../src/statistics/regression/york.js';

const x = [1.1, 2.3, 2.9, 4.2, 5.1, 6.3, 6.8, 8.4, 9.1, 10.2, 11.4];
const y = [1.0, 2.5, 3.1, 4.0, 5.4, 6.1, 7.2, 8.3, 9.6, 10.1, 11.9];

describe('comparison of two methods by regression', () => {
  it('Deming: is the both-axes line of equal uncertainties, whatever their ratio', () => {
    for (const ratio of [0.25, 1, 4]) {
      const fit = deming(x, y, ratio);
      const both = york(
        x,
        y,
        x.map(() => 1),
        x.map(() => Math.sqrt(ratio)),
      );
      expect(fit.slope).toAgreeWithin(both.slope, 1e-12);
      expect(fit.intercept).toAgreeWithin(both.intercept, 1e-10);
    }
  });

  it('Deming: jackknife standard errors are those of leaving every point out in turn', () => {
    const fit = deming(x, y);
    const n = x.length;
    const pseudo = x.map((_, i) => {
      const part = deming(
        x.filter((__, k) => k !== i),
        y.filter((__, k) => k !== i),
      );
      return n * fit.slope - (n - 1) * part.slope;
    });
    const mean = pseudo.reduce((a, b) => a + b, 0) / n;
    const se = Math.sqrt(pseudo.reduce((a, v) => a + (v - mean) ** 2, 0) / (n - 1) / n);
    expect(fit.standardErrorSlope).toAgreeWithin(se, 1e-10);
  });

  it('both turn round when the methods change places', () => {
    expect(deming(y, x, 1 / 2).slope).toAgreeWithin(1 / deming(x, y, 2).slope, 1e-13);
    const there = passingBablok(x, y);
    const back = passingBablok(y, x);
    expect(back.slope).toAgreeWithin(1 / there.slope, 1e-12);
    expect(back.slopeInterval.low).toAgreeWithin(1 / there.slopeInterval.high, 1e-12);
  });

  it('Passing–Bablok: ignores a gross error, and shifts and scales', () => {
    const spoiled = y.map((v, i) => (i === 4 ? 50 : v));
    expect(Math.abs(passingBablok(x, spoiled).slope - 1)).toBeLessThan(0.1);
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 64 }), fc.integer({ min: -64, max: 64 }), (scale, shift) => {
        const fit = passingBablok(x, y);
        const moved = passingBablok(
          x.map((v) => 8 * v),
          y.map((v) => 8 * v + shift),
        );
        expect(moved.slope).toAgreeWithin(fit.slope, 1e-12);
        expect(Math.abs(moved.intercept - 8 * fit.intercept - shift)).toBeLessThan(1e-10 * (1 + scale));
      }),
      { numRuns: 25 },
    );
  });

  it('Passing–Bablok: leaves out equal points, counts vertical slopes', () => {
    const fit = passingBablok([1, 1, ...x], [1, 1, ...y]);
    expect(fit.slopes).toBe((13 * 12) / 2 - 1);
    const vertical = passingBablok([1, 1, ...x], [0.9, 1.2, ...y]);
    expect(vertical.slopes).toBe((13 * 12) / 2);
  });

  it('Passing–Bablok: an interval of the slope without upper limit leaves the intercept open below', () => {
    // Ten samples of nearly one content, rounded to 0.1: many pairs of equal x give vertical slopes.
    const [rough, other] = [
      [5, 5, 5, 5, 5, 5.1, 5.1, 5.1, 5.2, 5.2],
      [4.8, 5, 5.1, 4.9, 5.2, 5, 5.2, 5.1, 5.1, 5.3],
    ];
    const fit = passingBablok(rough!, other!);
    expect(fit.slopeInterval.high).toBe(Number.POSITIVE_INFINITY);
    expect(fit.interceptInterval.low).toBe(Number.NEGATIVE_INFINITY);
    expect(Number.isFinite(fit.interceptInterval.high)).toBe(true);
    expect(fit.notes.join(' ')).toContain('no upper limit');
    // Read from the other side of the points the same slopes leave it open above.
    const behind = passingBablok(
      rough!.map((value) => value - 5.2),
      other!,
    );
    expect(behind.interceptInterval.high).toBe(Number.POSITIVE_INFINITY);
  });

  it('Passing–Bablok: refuses methods that fall together or not at all', () => {
    const falling = [20, 18.1, 15.9, 14.2, 11.8, 10.1, 8.3, 5.7, 4.1, 2.2];
    expect(() => passingBablok([1, 2, 3, 4, 5, 6, 7, 8, 9, 10], falling)).toThrow(
      'found 45 of 45 slopes below −1, expected two methods that rise together',
    );
  });

  it('refuse too few points, methods that do not vary together, and values that are not finite', () => {
    expect(() => deming([1, 2, 3], [1, 2, 3])).toThrow('x: found 3 value(s), expected at least 4');
    expect(() => deming([1, 2, 1, 2], [1, 1, 2, 2])).toThrow('do not vary together');
    expect(() => deming(x, y, 0)).toThrow('variance ratio: found 0');
    expect(() => passingBablok(x.slice(0, 9), y.slice(0, 9))).toThrow('expected at least 10');
    expect(() =>
      passingBablok(
        x,
        y.map((v, i) => (i === 3 ? Number.NaN : v)),
      ),
    ).toThrow('y: found NaN at position 4');
    expect(() =>
      passingBablok(
        x.map(() => 1),
        x.map(() => 2),
      ),
    ).toThrow('no two different points');
    expect(() =>
      passingBablok(
        x.map(() => 1),
        y,
      ),
    ).toThrow('hardly varies');
  });
});
