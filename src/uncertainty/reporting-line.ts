import { formatSignificant, type RoundedResult, roundToUncertainty } from '../quantities/rounding.js';
import type { Budget } from './budget.js';

/** A result as it is reported. */
export interface ReportingLine {
  readonly rounded: RoundedResult;
  /** Estimate ± expanded uncertainty with unit. */
  readonly result: string;
  /** Coverage factor, degrees of freedom and probability in a sentence. */
  readonly basis: string;
}

/**
 * A result with its expanded uncertainty as it is reported: two significant digits of U, the value to match, and what
 * U is based on.
 *
 * @throws InputError an expanded uncertainty of 0
 * @see JCGM 100:2008, 7.2.3, 7.2.4, 7.2.6
 * @example
 * const uncertainty = { standardUncertainty: 0.00035, effectiveDegreesOfFreedom: 9, expandedUncertainty: 0.00079 };
 * const coverage = { coverageProbability: 0.95, coverageFactor: 2.262 };
 * const mass = { output: 'm', description: 'mass', unit: 'g', estimate: 100.02147, lines: [], notes: [] };
 * reportingLine({ ...mass, ...uncertainty, ...coverage }).result // => 'm = (100.02147 ± 0.00079) g'
 */
export function reportingLine(budget: Budget): ReportingLine {
  const rounded = roundToUncertainty(budget.estimate, budget.expandedUncertainty);
  const unit = budget.unit === '1' ? '' : ` ${budget.unit}`;
  const nu = budget.effectiveDegreesOfFreedom;
  const law =
    nu === Infinity
      ? 'the normal distribution'
      : `the t distribution for ${formatSignificant(nu, 3)} degrees of freedom`;
  const percent = Number((100 * budget.coverageProbability).toPrecision(6));
  return {
    rounded,
    result: `${budget.output} = (${rounded.valueText} ± ${rounded.uncertaintyText})${unit}`,
    basis:
      `The number after ± is an expanded uncertainty U = k·u with k = ${formatSignificant(budget.coverageFactor, 3)}, ` +
      `based on ${law}, for a coverage probability of about ${percent} %.`,
  };
}
