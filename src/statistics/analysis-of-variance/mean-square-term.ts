import { InputError, requireFinite, requireNonNegative, requirePositive } from '../../errors.js';

/** One term c·MS of a linear combination of independent mean squares. */
export interface MeanSquareTerm {
  readonly coefficient: number;
  readonly meanSquare: number;
  readonly degreesOfFreedom: number;
}

/** @throws InputError no term, a coefficient that is not finite, a mean square below 0, degrees of freedom not above 0 */
export function requireTerms(terms: readonly MeanSquareTerm[]): void {
  if (terms.length === 0) throw new InputError('terms: found none, expected at least one mean square');
  terms.forEach((term, i) => {
    requireFinite([term.coefficient], `coefficient ${i + 1}`);
    requireNonNegative(term.meanSquare, `mean square ${i + 1}`);
    requirePositive(term.degreesOfFreedom, `degrees of freedom ${i + 1}`);
  });
}

/** Value of the combination. */
export function combine(terms: readonly MeanSquareTerm[]): number {
  return terms.reduce((total, term) => total + term.coefficient * term.meanSquare, 0);
}
