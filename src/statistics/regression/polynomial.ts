import { InputError, requireInteger } from '../../errors.js';
import { type DoubleDouble, multiply, one, wide } from '../arithmetic/double-double.js';
import type { FittedCurve } from './fitted-curve.js';
import { requirePoints } from './line.js';
import { fitWideColumns, type LinearModelFit } from './linear-model.js';

/** A polynomial in x by least squares; coefficients rise with the power, the constant first where there is one. */
export interface PolynomialFit extends FittedCurve, Omit<LinearModelFit, keyof FittedCurve> {
  readonly degree: number;
}

/** Settings of a polynomial fit. */
export interface PolynomialOptions {
  readonly weights?: readonly number[];
  /** Leave the constant out. Default false. */
  readonly throughOrigin?: boolean;
}

/**
 * Polynomial by ordinary or weighted least squares. Calibration functions use degree 1 to 3; up to 10 is computed with full
 * accuracy, for powers and sums are carried in 106 bits.
 *
 * @param x more points than coefficients, at more different values than the degree
 * @param degree 1 to 10
 * @throws InputError degree out of range, too few points or different x, a weight not above 0, a value that is not finite
 * @see ISO 8466-2:2001 (second degree); Draper and Smith, Applied Regression Analysis, 3rd ed. 1998, ch. 12
 * @example
 * fitPolynomial([0, 1, 2, 3, 4], [1, 3, 7, 13, 21.1], 2).coefficients[2] // => 1.0142857
 */
export function fitPolynomial(
  x: readonly number[],
  y: readonly number[],
  degree: number,
  options: PolynomialOptions = {},
): PolynomialFit {
  const { weights, throughOrigin = false } = options;
  requireInteger(degree, 'degree', 1, 10);
  const parameters = throughOrigin ? degree : degree + 1;
  requirePoints(x, y, weights, parameters + 1);
  const different = new Set(throughOrigin ? x.filter((value) => value !== 0) : x).size;
  if (different < parameters) {
    throw new InputError(`x: found ${different} different values, expected at least ${parameters}`);
  }
  const fit = fitWideColumns(powers(x, degree), y, {
    intercept: !throughOrigin,
    ...(weights ? { weights } : {}),
  });
  return {
    ...fit,
    x,
    y,
    degree,
    method: `${fit.method}, polynomial of degree ${degree}${throughOrigin ? ' through the origin' : ''}`,
  };
}

/** Value of a fitted polynomial at x. */
export function polynomialValue(fit: PolynomialFit, x: number): number {
  const value = [...fit.coefficients].reverse().reduce((total, c) => total * x + c, 0);
  return fit.hasIntercept ? value : value * x;
}

function powers(x: readonly number[], degree: number): DoubleDouble[][] {
  const columns: DoubleDouble[][] = [];
  let last: DoubleDouble[] = x.map(() => one);
  for (let k = 1; k <= degree; k++) {
    last = last.map((value, i) => multiply(value, wide(x[i]!)));
    columns.push(last);
  }
  return columns;
}
