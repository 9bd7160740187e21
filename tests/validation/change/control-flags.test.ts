import { describe, expect, it } from 'vitest';
import { randomStream } from '../../../src/uncertainty/random-stream.js';
import { controlFlags } from '../../../src/validation/change/control-flags.js';

const flags = (...values: number[]) => controlFlags(values, { centre: 10, standardDeviation: 2 });
const [warning, pair, action] = [
  'beyond the warning line',
  'second of three beyond one warning line',
  'beyond the action line',
];

describe('flags of control results', () => {
  // Centre 10 and s = 2: warning lines at 6 and 14, action lines at 4 and 16.
  it('flags what lies beyond a line, not what lies on it', () => {
    expect(flags(10, 14, 6)).toEqual(['', '', '']);
    expect(flags(14.001, 10, 10, 5.999)).toEqual([warning, '', '', warning]);
    expect(flags(16, 10, 10, 16.001, 10, 10, 3.9)).toEqual([warning, '', '', action, '', '', action]);
  });

  it('flags the second of three successive ones beyond one warning line', () => {
    expect(flags(15, 15)).toEqual([warning, pair]);
    expect(flags(15, 10, 15)).toEqual([warning, '', pair]);
    expect(flags(15, 10, 10, 15)).toEqual([warning, '', '', warning]);
    // On opposite sides they are no pair: the mean has not moved to either.
    expect(flags(15, 5, 10)).toEqual([warning, warning, '']);
    expect(flags(17, 15)).toEqual([action, pair]);
  });

  it('flags about 1 of 22 results of a process that holds, and 1 of 370 beyond an action line', () => {
    const random = randomStream(7, 'control results');
    const values = Array.from({ length: 40_000 }, () => random.normal());
    const found = controlFlags(values, { centre: 0, standardDeviation: 1 });
    const [beyond, acting] = [found.filter((f) => f !== ''), found.filter((f) => f === action)];
    // Binomial standard deviations: √(n·p·(1 − p)) = 41.7 and 10.4; four of them either way.
    expect(Math.abs(beyond.length - 40_000 / 22)).toBeLessThan(4 * 41.7);
    expect(Math.abs(acting.length - 40_000 / 370)).toBeLessThan(4 * 10.4);
  });

  it('refuses a chart without scatter', () => {
    expect(() => controlFlags([1, 1], { centre: 1, standardDeviation: 0 })).toThrow(
      'standard deviation of the control chart',
    );
  });
});
