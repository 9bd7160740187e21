import { InputError, requireProbability } from '../../errors.js';
import { chiSquaredQuantile } from '../distributions/chi-squared.js';
import { combine, type MeanSquareTerm, requireTerms } from './mean-square-term.js';
import { satterthwaiteDegreesOfFreedom } from './satterthwaite.js';
import type { VarianceInterval } from './variance-interval.js';

/**
 * Graybill–Wang interval of a sum of mean squares with positive coefficients, such as an intermediate precision variance
 * s_I² = MS_day/n + (1 − 1/n)·MS_within.
 *
 * upper = θ + √Σ(H·c·MS)² with H = ν/χ²_α,ν − 1, lower = θ − √Σ(G·c·MS)² with G = 1 − ν/χ²_(1−α),ν; α = (1 − coverage)/2.
 * The end points of the 90 % interval are the one-sided 95 % limits.
 *
 * @param terms independent mean squares with coefficients above 0
 * @throws InputError a coefficient not above 0, or a term that is not usable
 * @see Graybill and Wang 1980, J. Am. Stat. Assoc. 75, 869; Burdick and Graybill, Confidence Intervals on Variance Components, 1992
 * @example
 * graybillWangInterval([{ coefficient: 0.2, meanSquare: 11271.5, degreesOfFreedom: 5 }, { coefficient: 0.8, meanSquare: 2451.25, degreesOfFreedom: 24 }]).interval.low // => 2640.80
 */
export function graybillWangInterval(terms: readonly MeanSquareTerm[], coverage = 0.95): VarianceInterval {
  requireTerms(terms);
  requireProbability(coverage, 'coverage');
  terms.forEach(({ coefficient }, i) => {
    if (!(coefficient > 0)) {
      throw new InputError(
        `coefficient ${i + 1}: found ${coefficient}, expected one above 0; see modifiedLargeSampleInterval for differences`,
      );
    }
  });
  const tail = (1 - coverage) / 2;
  let below = 0;
  let above = 0;
  for (const { coefficient, meanSquare, degreesOfFreedom: nu } of terms) {
    below += ((1 - nu / chiSquaredQuantile(1 - tail, nu)) * coefficient * meanSquare) ** 2;
    above += ((nu / chiSquaredQuantile(tail, nu) - 1) * coefficient * meanSquare) ** 2;
  }
  const variance = combine(terms);
  return {
    variance,
    interval: { low: variance - Math.sqrt(below), high: variance + Math.sqrt(above), coverage },
    degreesOfFreedom: satterthwaiteDegreesOfFreedom(terms),
    method: 'Graybill–Wang interval',
    notes: [],
  };
}
