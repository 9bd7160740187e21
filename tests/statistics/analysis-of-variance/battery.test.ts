import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { nestedAnalysis } from '../../../src/statistics/analysis-of-variance/nested.js';
import { oneWayAnalysis } from '../../../src/statistics/analysis-of-variance/one-way.js';
import { oneWayColumns } from '../../../src/statistics/analysis-of-variance/one-way-columns.js';
import {
  grandMean,
  intraclassCorrelation,
} from '../../../src/statistics/analysis-of-variance/one-way-inference.js';
import { nestedProfileIntervals } from '../../../src/statistics/analysis-of-variance/profile-interval.js';
import { reml } from '../../../src/statistics/analysis-of-variance/reml.js';
import { remlNested } from '../../../src/statistics/analysis-of-variance/reml-nested.js';
import { twoWayAnalysis } from '../../../src/statistics/analysis-of-variance/two-way-crossed.js';

/** Eighteen values: three days of three runs of two, read also as rows and columns. */
const day = Array.from({ length: 18 }, (_, i) => Math.floor(i / 6));
const run = Array.from({ length: 18 }, (_, i) => Math.floor(i / 2) % 3);

interface Routine {
  readonly name: string;
  readonly figure: (values: readonly number[], order: readonly number[]) => number;
  readonly moved: (value: number, scale: number, shift: number) => number;
}

const same = (value: number) => value;
const variance = (value: number, scale: number) => scale ** 2 * value;
const factor = (name: string, levels: readonly number[], order: readonly number[]) => ({
  name,
  levels: order.map((i) => levels[i]!),
});
const both = (order: readonly number[]) => [factor('day', day, order), factor('run', run, order)];
const crossed = (values: readonly number[], order: readonly number[]) =>
  twoWayAnalysis(values, factor('day', day, order), factor('run', run, order));
const groups = (values: readonly number[], order: readonly number[]) =>
  [0, 1, 2].map((d) => values.filter((_, i) => day[order[i]!] === d));

const routines: Routine[] = [
  { name: 'one-way, within', figure: (v, o) => oneWayAnalysis(groups(v, o)).withinVariance, moved: variance },
  { name: 'one-way, F', figure: (v, o) => oneWayAnalysis(groups(v, o)).f, moved: same },
  {
    name: 'one-way over columns',
    figure: (v, o) =>
      oneWayColumns(
        Float64Array.from(v),
        v.map(() => 0),
        o.map((i) => day[i]!),
        1,
        3,
      )[0]!.meanSquareBetween,
    moved: variance,
  },
  {
    name: 'grand mean',
    figure: (v, o) => grandMean(oneWayAnalysis(groups(v, o))).mean,
    moved: (m, a, b) => a * m + b,
  },
  {
    name: 'intraclass correlation',
    figure: (v, o) => intraclassCorrelation(oneWayAnalysis(groups(v, o))).interval.high,
    moved: same,
  },
  {
    name: 'nested, component of runs',
    figure: (v, o) => nestedAnalysis(v, both(o)).strata[1]!.varianceUnconstrained,
    moved: variance,
  },
  { name: 'crossed, interaction', figure: (v, o) => crossed(v, o).strata[2]!.meanSquare, moved: variance },
  { name: 'crossed, F of columns', figure: (v, o) => crossed(v, o).strata[1]!.f!, moved: same },
  {
    name: 'nested likelihood, total',
    figure: (v, o) => remlNested(v, both(o)).totalVariance,
    moved: variance,
  },
  {
    name: 'nested likelihood, mean',
    figure: (v, o) => remlNested(v, both(o)).fixed[0]!.estimate,
    moved: (m, a, b) => a * m + b,
  },
  {
    name: 'likelihood, residual',
    figure: (v, o) => reml(v, both(o)).components[2]!.variance,
    moved: variance,
  },
  {
    name: 'profile, upper limit of the residual',
    figure: (v, o) => nestedProfileIntervals(v, both(o))[2]!.interval.high,
    moved: variance,
  },
];

const identity = day.map((_, i) => i);
const noise = fc
  .array(fc.integer({ min: -30, max: 30 }), { minLength: 18, maxLength: 18 })
  .filter((list) => [0, 2, 4, 6, 8].filter((i) => list[i] !== list[i + 1]).length > 2)
  .map((list) => list.map((z, i) => 50 + z / 8 + 2 * Math.sin(9 * day[i]!)));

function expectClose(found: number, expected: number, name: string): void {
  expect(Math.abs(found - expected), `${name}: ${found} against ${expected}`).toBeLessThanOrEqual(
    2e-8 * (1e-3 + Math.abs(expected)),
  );
}

describe('every analysis of variance', () => {
  it.each(routines)('$name: shifts and scales as it should', (routine) => {
    fc.assert(
      fc.property(
        noise,
        fc.integer({ min: -3, max: 3 }),
        fc.integer({ min: -64, max: 64 }),
        (values, k, b) => {
          const a = 2 ** k;
          const found = routine.figure(
            values.map((v) => a * v + b),
            identity,
          );
          expectClose(found, routine.moved(routine.figure(values, identity), a, b), routine.name);
        },
      ),
      { numRuns: 25 },
    );
  });

  it.each(routines)('$name: does not mind the order of the values', (routine) => {
    fc.assert(
      fc.property(noise, fc.shuffledSubarray(identity, { minLength: 18 }), (values, order) => {
        const found = routine.figure(
          order.map((i) => values[i]!),
          order,
        );
        expectClose(found, routine.figure(values, identity), routine.name);
      }),
      { numRuns: 25 },
    );
  });

  it.each(routines)('$name: refuses nothing, NaN and Infinity', (routine) => {
    const values = identity.map((i) => 50 + Math.sin(3 * i));
    expect(() => routine.figure([], [])).toThrow(InputError);
    for (const bad of [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]) {
      expect(() =>
        routine.figure(
          values.map((v, i) => (i === 7 ? bad : v)),
          identity,
        ),
      ).toThrow(InputError);
    }
  });
});
