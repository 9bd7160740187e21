import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { calibrationDetection } from '../../../src/statistics/regression/calibration-detection.js';
import { deming } from '../../../src/statistics/regression/deming.js';
import { generalisedDistanceFit } from '../../../src/statistics/regression/generalised-distance.js';
import { inversePrediction } from '../../../src/statistics/regression/inverse-prediction.js';
import { lackOfFit } from '../../../src/statistics/regression/lack-of-fit.js';
import { fitLine } from '../../../src/statistics/regression/line.js';
import { predictFromLine } from '../../../src/statistics/regression/line-prediction.js';
import { fitLineThroughOrigin } from '../../../src/statistics/regression/line-through-origin.js';
import { fitLinearModel } from '../../../src/statistics/regression/linear-model.js';
import { mandelTest } from '../../../src/statistics/regression/mandel-test.js';
import { passingBablok } from '../../../src/statistics/regression/passing-bablok.js';
import { fitPolynomial } from '../../../src/statistics/regression/polynomial.js';
import { residualDiagnostics } from '../../../src/statistics/regression/residual-diagnostics.js';
import { residualTests } from '../../../src/statistics/regression/residual-tests.js';
import { york } from '../../../src/statistics/regression/york.js';

type Points = readonly number[];

/** One figure of a routine, and what becomes of it when x and y are moved to a·x + b and c·y + d (a, c above 0). */
interface Routine {
  readonly name: string;
  readonly figure: (x: Points, y: Points) => number;
  readonly moved: (value: number, m: { a: number; b: number; c: number; d: number }) => number;
}

const u = (values: Points, size: number) => values.map(() => size);
const diagonal = (size: number, n: number) =>
  Array.from({ length: n }, (_, i) => Array.from({ length: n }, (__, j) => (i === j ? size : 0)));
const same = (value: number) => value;
const slope = (value: number, { a, c }: { a: number; c: number }) => (value * c) / a;

const routines: Routine[] = [
  { name: 'line, slope', figure: (x, y) => fitLine(x, y).slope, moved: slope },
  {
    name: 'line, residual standard deviation',
    figure: (x, y) => fitLine(x, y).residualStandardDeviation,
    moved: (v, { c }) => c * v,
  },
  { name: 'line, r²', figure: (x, y) => fitLine(x, y).rSquared, moved: same },
  {
    name: 'prediction',
    figure: (x, y) => predictFromLine(fitLine(x, y), x[3]!).y,
    moved: (v, { c, d }) => c * v + d,
  },
  {
    name: 'inverse prediction',
    figure: (x, y) => inversePrediction(fitLine(x, y), y[2]!, 2).x,
    moved: (v, { a, b }) => a * v + b,
  },
  {
    name: 'its uncertainty',
    figure: (x, y) => inversePrediction(fitLine(x, y), y[2]!, 2).standardUncertainty,
    moved: (v, { a }) => a * v,
  },
  {
    name: 'Fieller limit',
    figure: (x, y) => inversePrediction(fitLine(x, y), y[2]!, 2).fieller.low,
    moved: (v, { a, b }) => a * v + b,
  },
  { name: 'lack of fit', figure: (x, y) => lackOfFit(fitLine(x, y)).f, moved: same },
  {
    name: 'polynomial of degree 3, last term',
    figure: (x, y) => fitPolynomial(x, y, 3).coefficients[3]!,
    moved: (v, { a, c }) => (v * c) / a ** 3,
  },
  { name: 'Mandel', figure: (x, y) => mandelTest(x, y).f, moved: same },
  { name: 'linear model, F', figure: (x, y) => fitLinearModel([x, x.map((v) => v * v)], y).f, moved: same },
  {
    name: "Cook's distance",
    figure: (x, y) => residualDiagnostics(fitLine(x, y))[1]!.cooksDistance,
    moved: same,
  },
  {
    name: 'spread of residuals',
    figure: (x, y) => residualTests(fitLine(x, y)).spread.chiSquared,
    moved: same,
  },
  { name: 'Passing–Bablok, slope', figure: (x, y) => passingBablok(x, y).slope, moved: same },
];

/** Routines whose figures keep when both axes move alike. */
const alike: Routine[] = [
  { name: 'Deming, slope', figure: (x, y) => deming(x, y).slope, moved: same },
  { name: 'Deming, standard error', figure: (x, y) => deming(x, y).standardErrorSlope, moved: same },
  { name: 'York, slope', figure: (x, y) => york(x, y, u(x, 0.1), u(y, 0.2)).slope, moved: same },
  {
    name: 'generalised distance, slope',
    figure: (x, y) =>
      generalisedDistanceFit(x, y, { xx: diagonal(0.01, x.length), yy: diagonal(0.04, x.length) }).slope,
    moved: same,
  },
];

/** Fourteen points near a rising line with replicates, from whole numbers. */
const points = fc
  .array(fc.integer({ min: -20, max: 20 }), { minLength: 14, maxLength: 14 })
  .filter((noise) => new Set(noise).size > 4)
  .map((noise) => ({
    x: noise.map((_, i) => Math.floor(i / 2)),
    y: noise.map((z, i) => 3 * Math.floor(i / 2) + z / 16),
  }));
const powers = fc.integer({ min: -3, max: 3 }).map((k) => 2 ** k);
const shift = fc.integer({ min: -64, max: 64 });

function expectMoved(
  routine: Routine,
  x: Points,
  y: Points,
  m: { a: number; b: number; c: number; d: number },
): void {
  const base = routine.figure(x, y);
  const found = routine.figure(
    x.map((v) => m.a * v + m.b),
    y.map((v) => m.c * v + m.d),
  );
  const expected = routine.moved(base, m);
  expect(Math.abs(found - expected), routine.name).toBeLessThanOrEqual(1e-9 * (1 + Math.abs(expected)));
}

function expectPermuted(routine: Routine, x: Points, y: Points): void {
  // Two points keep their places, for some figures speak of them.
  const order = [0, 1, 2, 3, ...x.map((_, i) => x.length - 1 - i).slice(0, x.length - 4)];
  const found = routine.figure(
    order.map((i) => x[i]!),
    order.map((i) => y[i]!),
  );
  const expected = routine.figure(x, y);
  expect(Math.abs(found - expected), routine.name).toBeLessThanOrEqual(1e-10 * (1 + Math.abs(expected)));
}

describe('every regression routine', () => {
  it.each(routines)('$name: moves with its axes as it should', (routine) => {
    fc.assert(
      fc.property(points, powers, shift, powers, shift, ({ x, y }, a, b, c, d) => {
        const scale = routine.name.startsWith('Passing') ? { a, b, c: a, d } : { a, b, c, d };
        expectMoved(routine, x, y, scale);
      }),
      { numRuns: 30 },
    );
  });

  it.each(alike)('$name: does not mind a common shift', (routine) => {
    fc.assert(
      fc.property(points, shift, shift, ({ x, y }, b, d) => expectMoved(routine, x, y, { a: 1, b, c: 1, d })),
      { numRuns: 30 },
    );
  });

  it.each([...routines, ...alike])('$name: does not mind the order of the points', (routine) => {
    fc.assert(
      fc.property(points, ({ x, y }) => expectPermuted(routine, x, y)),
      { numRuns: 20 },
    );
  });

  it.each([...routines, ...alike])(
    '$name: refuses nothing, NaN, Infinity and lists of unequal length',
    (routine) => {
      const x = Array.from({ length: 14 }, (_, i) => Math.floor(i / 2));
      const y = x.map((v, i) => 3 * v + Math.sin(i));
      const spoil = (list: Points, value: number) => list.map((v, i) => (i === 4 ? value : v));
      expect(() => routine.figure([], [])).toThrow(InputError);
      for (const value of [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]) {
        expect(() => routine.figure(spoil(x, value), y)).toThrow(InputError);
        expect(() => routine.figure(x, spoil(y, value))).toThrow(InputError);
      }
      expect(() => routine.figure(x, y.slice(1))).toThrow(InputError);
    },
  );

  it('a line through the origin and the detection capability refuse the same', () => {
    expect(() => fitLineThroughOrigin([], [])).toThrow(InputError);
    expect(() => fitLineThroughOrigin([1, Number.NaN, 3], [1, 2, 3])).toThrow(InputError);
    expect(() => calibrationDetection(fitLine([1, 2, 3], [1, 2, Number.NaN]))).toThrow(InputError);
  });
});
