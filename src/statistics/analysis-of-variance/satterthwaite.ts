import type { MeanSquareTerm } from './mean-square-term.js';
import { combine, requireTerms } from './mean-square-term.js';
import { type VarianceInterval, varianceInterval } from './variance-interval.js';

/**
 * Satterthwaite's effective degrees of freedom of a combination of mean squares: (Σ c·MS)²/Σ (c·MS)²/ν.
 *
 * Good for positive coefficients; with a difference of mean squares it is only as good as that difference is large. 0 where the
 * combination is 0.
 *
 * @throws InputError no term, or a term that is not usable
 * @see Satterthwaite 1946, Biometrics Bulletin 2, 110
 * @example
 * satterthwaiteDegreesOfFreedom([{ coefficient: 0.2, meanSquare: 11271.5, degreesOfFreedom: 5 }, { coefficient: 0.8, meanSquare: 2451.25, degreesOfFreedom: 24 }]) // => 15.1017
 */
export function satterthwaiteDegreesOfFreedom(terms: readonly MeanSquareTerm[]): number {
  requireTerms(terms);
  const total = combine(terms);
  if (total === 0) return 0;
  // Ratios to the total: squares of squares overflow early.
  return (
    1 / terms.reduce((sum, t) => sum + ((t.coefficient * t.meanSquare) / total) ** 2 / t.degreesOfFreedom, 0)
  );
}

/**
 * χ² interval of a combination of mean squares with Satterthwaite's degrees of freedom.
 *
 * Too short for an intermediate precision of few days: shown beside the limits of `graybillWangInterval`, not decisive.
 *
 * @throws InputError a combination of 0 or below, or a term that is not usable
 * @see Satterthwaite 1946, Biometrics Bulletin 2, 110
 * @example
 * satterthwaiteInterval([{ coefficient: 1, meanSquare: 4, degreesOfFreedom: 10 }]).interval.high // => 12.31917
 */
export function satterthwaiteInterval(terms: readonly MeanSquareTerm[], coverage = 0.95): VarianceInterval {
  const degreesOfFreedom = satterthwaiteDegreesOfFreedom(terms);
  return {
    ...varianceInterval(combine(terms), degreesOfFreedom, coverage),
    method: 'χ² interval with Satterthwaite degrees of freedom',
  };
}
