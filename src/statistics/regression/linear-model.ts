import { InputError, requireFinite, requirePositive, requireSameLength } from '../../errors.js';
import { ratioOfMeanSquares } from '../analysis-of-variance/one-way.js';
import {
  add,
  type DoubleDouble,
  divide,
  dot,
  multiply,
  narrow,
  one,
  square,
  squareRoot,
  subtract,
  wide,
  withoutNoise,
  zero,
} from '../arithmetic/double-double.js';
import { fSurvival } from '../distributions/f.js';
import { leastSquares } from './least-squares.js';

/** A linear least-squares fit with its analysis of variance. */
export interface LinearModelFit {
  /** Intercept first where there is one, then one coefficient a column. */
  readonly coefficients: readonly number[];
  readonly standardErrors: readonly number[];
  readonly covariance: readonly (readonly number[])[];
  readonly hasIntercept: boolean;
  readonly n: number;
  /** Number of coefficients. */
  readonly parameters: number;
  readonly weights: readonly number[];
  readonly fitted: readonly number[];
  readonly residuals: readonly number[];
  readonly leverages: readonly number[];
  /** About the mean where there is an intercept, else about 0. */
  readonly regressionSumOfSquares: number;
  readonly regressionDegreesOfFreedom: number;
  readonly regressionMeanSquare: number;
  readonly residualSumOfSquares: number;
  readonly residualMeanSquare: number;
  readonly residualStandardDeviation: number;
  readonly degreesOfFreedom: number;
  readonly f: number;
  readonly pValue: number;
  readonly rSquared: number;
  readonly method: string;
  readonly notes: readonly string[];
}

/** Settings of a linear model. */
export interface LinearModelOptions {
  /** Fit a constant as well. Default true. */
  readonly intercept?: boolean;
  /** n positive weights. Default all 1. */
  readonly weights?: readonly number[];
}

/**
 * Multiple linear regression by ordinary or weighted least squares, in 106-bit arithmetic.
 *
 * @param columns k explanatory variables of n values each
 * @param y n responses, more than there are coefficients
 * @throws InputError unequal lengths, too few points, columns that depend on each other, a value that is not finite
 * @see Draper and Smith, Applied Regression Analysis, 3rd ed. 1998, ch. 5
 * @example
 * fitLinearModel([[1, 2, 3, 4], [1, 4, 9, 16]], [1, 4.1, 8.9, 16]).coefficients[2] // => 1
 */
export function fitLinearModel(
  columns: readonly (readonly number[])[],
  y: readonly number[],
  options: LinearModelOptions = {},
): LinearModelFit {
  columns.forEach((column, k) => {
    requireSameLength(column, `column ${k + 1}`, y, 'y');
    requireFinite(column, `column ${k + 1}`);
  });
  return fitWideColumns(
    columns.map((column) => column.map(wide)),
    y,
    options,
  );
}

/** The same for columns already held in double-double form, such as powers of x. */
export function fitWideColumns(
  columns: readonly (readonly DoubleDouble[])[],
  y: readonly number[],
  options: LinearModelOptions,
): LinearModelFit {
  const { intercept = true, weights = y.map(() => 1) } = options;
  const design = intercept ? [y.map(() => one), ...columns] : columns;
  requireResponses(design.length, y, weights);
  const solution = leastSquares(design, y, weights);
  const nu = y.length - design.length;
  const scale = y.reduce((sum, value, i) => sum + weights[i]! * value * value, 0);
  const rss = withoutNoise(solution.residualSumOfSquares, scale);
  const s2 = divide(rss, wide(nu));
  const fitted = solution.residuals.map((r, i) => subtract(wide(y[i]!), r));
  const regression = sumAbout(fitted, intercept ? weightedMean(y, weights) : zero, weights);
  const regressionDegreesOfFreedom = columns.length;
  const notes: string[] = [];
  const regressionMeanSquare = divide(regression, wide(Math.max(1, regressionDegreesOfFreedom)));
  const f = ratioOfMeanSquares(regressionMeanSquare, s2, notes);
  const total = add(regression, rss);
  const covariance = solution.inverseNormalMatrix.map((row) => row.map((v) => narrow(multiply(v, s2))));
  return {
    coefficients: solution.coefficients.map(narrow),
    standardErrors: solution.inverseNormalMatrix.map((row, i) => narrow(squareRoot(multiply(row[i]!, s2)))),
    covariance,
    hasIntercept: intercept,
    n: y.length,
    parameters: design.length,
    weights,
    fitted: fitted.map(narrow),
    residuals: solution.residuals.map(narrow),
    leverages: solution.leverages.map(narrow),
    regressionSumOfSquares: narrow(regression),
    regressionDegreesOfFreedom,
    regressionMeanSquare: narrow(regressionMeanSquare),
    residualSumOfSquares: narrow(rss),
    residualMeanSquare: narrow(s2),
    residualStandardDeviation: narrow(squareRoot(s2)),
    degreesOfFreedom: nu,
    f,
    pValue: regressionDegreesOfFreedom === 0 ? 1 : fSurvival(f, regressionDegreesOfFreedom, nu),
    rSquared: narrow(total) === 0 ? 0 : narrow(divide(regression, total)),
    method: options.weights ? 'weighted least squares' : 'ordinary least squares',
    notes,
  };
}

function requireResponses(parameters: number, y: readonly number[], weights: readonly number[]): void {
  if (parameters === 0) throw new InputError('columns: found none, expected at least one');
  requireFinite(y, 'y', parameters + 1);
  requireSameLength(weights, 'weights', y, 'y');
  weights.forEach((weight, i) => {
    requirePositive(weight, `weight ${i + 1}`);
  });
}

function weightedMean(y: readonly number[], weights: readonly number[]): DoubleDouble {
  const w = weights.map(wide);
  return divide(dot(w, y.map(wide)), w.reduce(add, zero));
}

function sumAbout(
  values: readonly DoubleDouble[],
  centre: DoubleDouble,
  weights: readonly number[],
): DoubleDouble {
  let total = zero;
  values.forEach((value, i) => {
    total = add(total, multiply(wide(weights[i]!), square(subtract(value, centre))));
  });
  return total;
}
