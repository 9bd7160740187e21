import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { fitLine } from '../../../src/statistics/regression/line.js';
import { fitLineThroughOrigin } from '../../../src/statistics/regression/line-through-origin.js';
import { fitLinearModel } from '../../../src/statistics/regression/linear-model.js';
import { mandelTest } from '../../../src/statistics/regression/mandel-test.js';
import { fitPolynomial, polynomialValue } from '../../../src/statistics/regression/polynomial.js';
import { exactLeastSquares } from '../../support/exact-least-squares.js';
import { Rational } from '../../support/rational.js';
import { type PublishedExample, readReference } from '../../support/reference-sets.js';

describe('polynomials and linear models', () => {
  // ISO 8466-1:1990, example: figures remembered and recomputed.
  it('gives line, process standard deviation and fitting test of the ISO 8466-1 example', () => {
    const { inputs, published } = readReference<
      PublishedExample<{ x_mg_l: number[]; y_absorbance: number[] }, Record<string, string>>
    >('statistics/iso8466-photometric-calibration');
    const line = fitLine(inputs.x_mg_l, inputs.y_absorbance);
    expect(line.intercept).toRoundTo(published.a!);
    expect(line.slope).toRoundTo(published.b!);
    expect(line.residualStandardDeviation).toRoundTo(published.s_y!);
    const process = line.residualStandardDeviation / line.slope;
    expect(process).toRoundTo(published.s_x0!);
    expect((100 * process) / line.xMean).toRoundTo(published.V_x0_percent!);
    const mandel = mandelTest(inputs.x_mg_l, inputs.y_absorbance);
    // Not printed in the standard; recomputed by independent code.
    expect(mandel.residualStandardDeviationQuadratic).toAgreeWithin(0.00522903979167, 1e-11);
    expect(mandel.difference).toAgreeWithin(2.20909090909e-5, 1e-10);
    expect(mandel.f).toAgreeWithin(0.807922485038, 1e-10);
    const quadratic = fitPolynomial(inputs.x_mg_l, inputs.y_absorbance, 2);
    [0.0135, 2.62027272727, -0.0818181818182].forEach((value, k) => {
      expect(quadratic.coefficients[k]).toAgreeWithin(value, 1e-11);
    });
  });

  it('degree 1 is the straight line, in every figure both have', () => {
    const x = [0, 1, 2, 4, 8];
    const y = [0.1, 1.2, 1.9, 4.3, 7.8];
    const weights = [4, 3, 2, 1, 0.5];
    const line = fitLine(x, y, weights);
    const polynomial = fitPolynomial(x, y, 1, { weights });
    expect(polynomial.coefficients[0]).toAgreeWithin(line.intercept, 1e-15);
    expect(polynomial.coefficients[1]).toAgreeWithin(line.slope, 1e-15);
    expect(polynomial.covariance[0]![1]).toAgreeWithin(line.covariance, 1e-14);
    expect(polynomial.covariance[1]![1]).toAgreeWithin(line.varianceSlope, 1e-14);
    expect(polynomial.residualStandardDeviation).toAgreeWithin(line.residualStandardDeviation, 1e-14);
    expect(polynomial.rSquared).toAgreeWithin(line.rSquared, 1e-14);
    line.leverages.forEach((h, i) => {
      expect(polynomial.leverages[i]).toAgreeWithin(h, 1e-13);
    });
  });

  it('passes through the points of its own degree, and is read by `polynomialValue`', () => {
    const x = [-2, -1, 0, 1, 2, 3];
    const y = x.map((v) => 1 - 2 * v + 0.5 * v ** 3);
    const cubic = fitPolynomial(x, y, 3);
    expect(cubic.residualStandardDeviation).toBeLessThan(1e-25);
    expect(polynomialValue(cubic, 1.5)).toAgreeWithin(1 - 3 + 0.5 * 3.375, 1e-14);
    const origin = fitPolynomial([1, 2, 3, 4], [3.1, 8, 15, 24], 2, { throughOrigin: true });
    expect(polynomialValue(origin, 0)).toBe(0);
    expect(polynomialValue(origin, 2)).toAgreeWithin(
      2 * origin.coefficients[0]! + 4 * origin.coefficients[1]!,
      1e-14,
    );
  });

  it('through the origin: slope and its uncertainty by the closed form', () => {
    const fit = fitLineThroughOrigin([1, 2, 3], [2, 4.1, 5.9]);
    const slope = (2 + 8.2 + 17.7) / 14;
    const rss = 4 + 16.81 + 34.81 - slope * 27.9;
    expect(fit.slope).toAgreeWithin(slope, 1e-15);
    expect(fit.varianceSlope).toAgreeWithin(rss / 2 / 14, 1e-11);
    expect(fit.degreesOfFreedom).toBe(2);
    expect(fit.sumOfSquaresX).toBe(14);
  });

  it('agrees with exact arithmetic for nearly collinear columns and weights', () => {
    const step = fc.integer({ min: -9, max: 9 });
    const row = fc.tuple(step, step, step, fc.integer({ min: 1, max: 8 }));
    fc.assert(
      fc.property(
        fc.array(row, { minLength: 6, maxLength: 12 }),
        fc.integer({ min: 0, max: 7 }),
        (rows, digits) => {
          const first = rows.map(([a]) => 10 ** digits + a);
          const second = rows.map(([a, b], i) => first[i]! + a / 4 + b / 1024);
          const y = rows.map(([, , c], i) => first[i]! + c / 8);
          const weights = rows.map(([, , , w]) => w / 2);
          const design = [rows.map(() => 1), first, second];
          let exact: ReturnType<typeof exactLeastSquares>;
          try {
            exact = exactLeastSquares(design, y, weights);
          } catch (error) {
            if (error instanceof RangeError) fc.pre(false);
            throw error;
          }
          const found = fitLinearModel([first, second], y, { weights });
          exact.coefficients.forEach((value, k) => {
            expect(found.coefficients[k]).toAgreeWithin(value, 1e-13);
            expect(found.standardErrors[k]).toAgreeWithin(exact.standardErrors[k]!, 1e-12);
          });
          expect(found.residualSumOfSquares).toAgreeWithin(exact.residualSumOfSquares, 1e-12);
        },
      ),
      { numRuns: 100 },
    );
  });

  it('agrees with exact arithmetic for the cubic of a narrow range far from 0', () => {
    const x = Array.from({ length: 9 }, (_, i) => 1000 + i / 8);
    const y = x.map((v, i) => Math.sin(i) + v);
    const powers = [0, 1, 2, 3].map((k) =>
      x.map((v) =>
        Array.from({ length: k }, () => Rational.from(v)).reduce((a, b) => a.times(b), new Rational(1n)),
      ),
    );
    const exact = exactLeastSquares([x.map(() => 1), ...powers.slice(1)], y);
    const found = fitPolynomial(x, y, 3);
    exact.coefficients.forEach((value, k) => {
      expect(found.coefficients[k]).toAgreeWithin(value, 1e-13);
      expect(found.standardErrors[k]).toAgreeWithin(exact.standardErrors[k]!, 1e-13);
    });
  });

  it('Mandel: F is infinite when the parabola is exact, 0 when the line is', () => {
    expect(mandelTest([0, 1, 2, 3, 4], [0, 1, 4, 9, 16]).f).toBe(Number.POSITIVE_INFINITY);
    const straight = mandelTest([0, 1, 2, 3], [0, 2, 4, 6]);
    expect([straight.f, straight.pValue]).toEqual([0, 1]);
    expect(straight.notes.join(' ')).toContain('residual variance is 0');
  });

  it('refuses too few points or different x, a degree out of range, dependent columns and values that are not finite', () => {
    expect(() => fitPolynomial([1, 2, 3], [1, 2, 3], 2)).toThrow('expected at least 4');
    expect(() => fitPolynomial([1, 1, 2, 2], [1, 2, 3, 4], 2)).toThrow(
      'found 2 different values, expected at least 3',
    );
    expect(() => fitPolynomial([1, 2, 3, 4], [1, 2, 3, 4], 11)).toThrow('degree: found 11');
    expect(() => fitLineThroughOrigin([0, 0], [1, 2])).toThrow(InputError);
    expect(() =>
      fitLinearModel(
        [
          [1, 2, 3, 4],
          [2, 4, 6, 8],
        ],
        [1, 2, 3, 5],
      ),
    ).toThrow('column 3: found a linear combination');
    expect(() => fitLinearModel([], [1, 2], { intercept: false })).toThrow('columns: found none');
    expect(() => fitLinearModel([[1, Number.NaN, 3]], [1, 2, 3])).toThrow('column 1: found NaN');
    expect(() => mandelTest([1, 2, 3], [1, 2, 3])).toThrow('number of points: found 3');
  });
});
