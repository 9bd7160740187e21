import { requireInteger } from '../../errors.js';
import { fSurvival } from '../distributions/f.js';
import { fitPolynomial } from './polynomial.js';

/** Comparison of a straight line with a second-degree polynomial. */
export interface MandelTest {
  /** (RSS₁ − RSS₂)/s₂², with 1 and n − 3 degrees of freedom. */
  readonly f: number;
  readonly pValue: number;
  readonly degreesOfFreedom: number;
  /** Residual standard deviation of the line. */
  readonly residualStandardDeviationLine: number;
  /** Residual standard deviation of the second-degree polynomial. */
  readonly residualStandardDeviationQuadratic: number;
  /** Difference of the two residual sums of squares. */
  readonly difference: number;
  readonly method: string;
  readonly notes: readonly string[];
}

/**
 * Mandel's fitting test: does a second-degree term improve the calibration line significantly?
 *
 * Significance is no measure of harm: judge linearity by the deviation it causes in x.
 *
 * @param x n ≥ 4 values, at least three of them different
 * @throws InputError too few points or different x, a weight not above 0, a value that is not finite
 * @see ISO 8466-1:2021 (fitting test after Mandel 1964)
 * @example
 * mandelTest([0, 1, 2, 3, 4], [0, 1, 2.1, 3, 4.2]).f // => 0.4347826
 */
export function mandelTest(
  x: readonly number[],
  y: readonly number[],
  weights?: readonly number[],
): MandelTest {
  requireInteger(x.length, 'number of points', 4);
  const options = weights ? { weights } : {};
  const quadratic = fitPolynomial(x, y, 2, options);
  const line = fitPolynomial(x, y, 1, options);
  const difference = line.residualSumOfSquares - quadratic.residualSumOfSquares;
  // The t value of the second-degree term carries no cancellation; its square is Mandel's F.
  const perfect = quadratic.residualMeanSquare === 0;
  const f = perfect
    ? difference > 0
      ? Number.POSITIVE_INFINITY
      : 0
    : (quadratic.coefficients[2]! / quadratic.standardErrors[2]!) ** 2;
  return {
    f,
    pValue: fSurvival(f, 1, quadratic.degreesOfFreedom),
    degreesOfFreedom: quadratic.degreesOfFreedom,
    residualStandardDeviationLine: line.residualStandardDeviation,
    residualStandardDeviationQuadratic: quadratic.residualStandardDeviation,
    difference,
    method: "Mandel's fitting test, line against second degree",
    notes: perfect ? ['Every point lies on the second-degree polynomial: its residual variance is 0.'] : [],
  };
}
