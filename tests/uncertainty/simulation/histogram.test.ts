import { describe, expect, it } from 'vitest';
import { histogramOf } from '../../../src/uncertainty/simulation/histogram.js';
import { simulateInThread } from '../../../src/uncertainty/simulation/simulate.js';
import { input } from '../../support/input.js';
import { model } from '../../support/model.js';

describe('a histogram', () => {
  it('puts each value into the cell whose edges hold it, the uppermost edge into the last cell', () => {
    const values = Float64Array.of(-1, -1e-300, 0, 0.2499, 0.25, 0.9999, 1, 1.0001, 1e300, -1e300);
    expect(histogramOf(values, 0, 1, 4)).toEqual({
      edges: [0, 0.25, 0.5, 0.75, 1],
      counts: [2, 1, 0, 2],
      below: 3,
      above: 2,
    });
  });

  it('has one cell where all values are equal', () => {
    expect(histogramOf(Float64Array.of(3, 3), 3, 3, 10)).toEqual({
      edges: [3, 3],
      counts: [2],
      below: 0,
      above: 0,
    });
  });

  it('of a simulation counts every trial, in as many cells as asked for, near all of them inside', () => {
    const options = { seed: 1, trials: 50_000, bins: 33 };
    const { histogram, symmetric } = simulateInThread(model({ y: 'a' }), [input('a', 1, 0.1)], [], options)
      .outputs[0]!;
    expect(histogram.counts).toHaveLength(33);
    expect(histogram.edges).toHaveLength(34);
    const inside = histogram.counts.reduce((sum, count) => sum + count, 0);
    expect(inside + histogram.below + histogram.above).toBe(50_000);
    expect(histogram.below + histogram.above).toBeLessThan(50);
    expect(histogram.edges[0]).toBeLessThan(symmetric.low);
    expect(histogram.edges.at(-1)).toBeGreaterThan(symmetric.high);
  });
});
