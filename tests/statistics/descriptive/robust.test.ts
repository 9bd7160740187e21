import { describe, expect, it } from 'vitest';
import { algorithmA } from '../../../src/statistics/descriptive/algorithm-a.js';
import { huberProposal2 } from '../../../src/statistics/descriptive/huber-proposal-2.js';
import { qn } from '../../../src/statistics/descriptive/qn.js';
import { normalisedInterquartileRange } from '../../../src/statistics/descriptive/sample-quantile.js';
import { scaledMedianAbsoluteDeviation } from '../../../src/statistics/descriptive/scaled-median-absolute-deviation.js';

describe('robust estimates', () => {
  it('keep a scale of 0 where more than half of the values are equal, and say so', () => {
    for (const found of [algorithmA([5, 5, 5, 5, 6, 9]), huberProposal2([5, 5, 5, 5, 6, 9])]) {
      expect(found.location).toBe(5);
      expect(found.scale).toBe(0);
      expect(found.notes).toEqual([expect.stringContaining('the scale stays at 0')]);
    }
  });

  it('give equal values their value and no scale', () => {
    for (const found of [algorithmA([7, 7, 7]), huberProposal2([7, 7, 7]), qn([7, 7, 7])]) {
      expect(found.location).toBe(7);
      expect(found.scale).toBe(0);
    }
    expect(qn([7, 7, 7]).notes).toHaveLength(1);
  });

  it('keep their digits under a common offset', () => {
    const values = [0.125, 0.25, 0.3125, 0.5, 4];
    const shifted = values.map((x) => x + 2 ** 30);
    expect(algorithmA(shifted).scale).toAgreeWithin(algorithmA(values).scale, 1e-14);
    expect(huberProposal2(shifted).scale).toAgreeWithin(huberProposal2(values).scale, 1e-14);
    expect(qn(shifted).scale).toAgreeWithin(qn(values).scale, 1e-14);
  });

  it('find the same Qn as sorting all pairs', () => {
    const values = Array.from({ length: 101 }, (_, i) => ((i * 7919) % 1009) / 8);
    const pairs = values
      .flatMap((a, i) => values.slice(i + 1).map((b) => Math.abs(a - b)))
      .sort((a, b) => a - b);
    const half = Math.floor(values.length / 2) + 1;
    const found = qn(values, { constant: 1, smallSampleFactor: false });
    expect(found.scale).toBe(pairs[(half * (half - 1)) / 2 - 1]);
  });

  it.each([
    ['Algorithm A', (values: number[]) => algorithmA(values).scale],
    ['proposal 2', (values: number[]) => huberProposal2(values).scale],
    ['Qn', (values: number[]) => qn(values).scale],
    ['the scaled median absolute deviation', (values: number[]) => scaledMedianAbsoluteDeviation(values)],
    ['the interquartile range', (values: number[]) => normalisedInterquartileRange(values)],
  ])('%s refuses what leaves the range of numbers, and scales up to it', (_, scaleOf) => {
    const values = [-1, -0.9, 0.8, 1];
    const large = values.map((x) => x * 2 ** 1020);
    expect(scaleOf(large)).toAgreeWithin(scaleOf(values) * 2 ** 1020, 1e-14);
    expect(() => scaleOf([-1.7e308, -1.6e308, 1.6e308, 1.7e308])).toThrow(/exceeds the range of numbers/);
  });
});
