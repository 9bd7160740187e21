import { requireInteger, requirePositive } from '../../errors.js';
import { chiSquaredCdf, chiSquaredQuantile } from '../../statistics/distributions/chi-squared.js';

/**
 * Probability that the upper one-sided 95 % limit of a standard deviation keeps its criterion.
 *
 * @param criterionRatio criterion ÷ true standard deviation
 * @param nu degrees of freedom of the estimate: days × (digestions − 1) for repeatability, blanks − 1 for blanks
 * @throws InputError a ratio not above 0, degrees of freedom below 1
 * @see ISO 2854:1976 (limits of a variance; clause not cited)
 * @example
 * powerForStandardDeviation(1, 9).toFixed(3) // => "0.050"
 */
export function powerForStandardDeviation(criterionRatio: number, nu: number): number {
  requirePositive(criterionRatio, 'criterion ÷ expected standard deviation');
  requireInteger(nu, 'degrees of freedom', 1);
  return chiSquaredCdf(criterionRatio ** 2 * chiSquaredQuantile(0.05, nu), nu);
}
