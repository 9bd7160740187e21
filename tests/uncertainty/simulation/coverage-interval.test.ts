import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { randomStream } from '../../../src/uncertainty/random-stream.js';
import { coverageIntervals } from '../../../src/uncertainty/simulation/coverage-interval.js';

/** Both intervals by the letter of JCGM 101:2008, 7.7, from all values in order. */
function byFullSort(values: Float64Array, p: number): [number, number, number, number] {
  const y = Float64Array.from(values).sort();
  const m = y.length;
  const q = Number.isInteger(p * m) ? p * m : Math.floor(p * m + 0.5);
  const r = Number.isInteger((m - q) / 2) ? (m - q) / 2 : Math.floor((m - q + 1) / 2);
  let best = 1;
  for (let i = 2; i <= m - q; i++) if (y[i + q - 1]! - y[i - 1]! < y[best + q - 1]! - y[best - 1]!) best = i;
  return [y[r - 1]!, y[r + q - 1]!, y[best - 1]!, y[best + q - 1]!];
}

function found(values: Float64Array, p: number): [number, number, number, number] {
  const { symmetric, shortest } = coverageIntervals(values, p);
  return [symmetric.low, symmetric.high, shortest.low, shortest.high];
}

describe('coverage intervals from selected tails', () => {
  const shapes: Record<string, (z: number, i: number) => number> = {
    normal: (z) => z,
    skew: (z) => Math.exp(z),
    'heavy-tailed': (z) => z / (1e-3 + Math.abs(z) ** 3),
    'of few different values': (z) => Math.round(z),
    'all equal': () => 3,
    rising: (_z, i) => i,
    falling: (_z, i) => -i,
    'in waves that a regular sample would miss': (z, i) => z + 10 * Math.sin(i / 7),
  };

  it.each(Object.entries(shapes))('are those of a full sort for values %s', (_, shape) => {
    const stream = randomStream(3, 'values');
    for (const size of [40, 997, 10_000, 50_003]) {
      const values = Float64Array.from({ length: size }, (_z, i) => shape(stream.normal(), i));
      for (const p of [0.5, 0.9, 0.95]) expect(found(values, p)).toEqual(byFullSort(values, p));
    }
  });

  it('are those of a full sort for any values and probability', () => {
    const values = fc.array(fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e100, max: 1e100 }), {
      minLength: 20,
      maxLength: 3000,
      size: 'max',
    });
    fc.assert(
      fc.property(values, fc.double({ min: 0.2, max: 0.94, noNaN: true }), (list, p) => {
        const trials = Float64Array.from(list);
        expect(found(trials, p)).toEqual(byFullSort(trials, p));
      }),
      { numRuns: 60 },
    );
  });

  it('leave the trials as they are', () => {
    const values = Float64Array.from({ length: 1000 }, (_, i) => (i * 7919) % 1000);
    const before = Float64Array.from(values);
    coverageIntervals(values, 0.9);
    expect(values).toEqual(before);
  });

  it('take more trials than lie inside', () => {
    expect(() => coverageIntervals(Float64Array.of(1, 2, 3), 0.95)).toThrow(InputError);
    expect(() => coverageIntervals(Float64Array.of(1, 2, 3), 1)).toThrow('expected a number between 0 and 1');
  });
});
