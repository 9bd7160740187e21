import { InputError, requireProbability } from '../../errors.js';
import { graybillWangInterval } from '../../statistics/analysis-of-variance/graybill-wang.js';
import type { MeanSquareTerm } from '../../statistics/analysis-of-variance/mean-square-term.js';
import { modifiedLargeSampleInterval } from '../../statistics/analysis-of-variance/modified-large-sample.js';
import { varianceInterval } from '../../statistics/analysis-of-variance/variance-interval.js';

/** One-sided limits of a sum of mean squares, both at the same error probability. */
export interface VarianceSumLimits {
  readonly lower: number;
  readonly upper: number;
}

/**
 * One-sided limits of c₁·E(MS₁) + c₂·E(MS₂) of independent mean squares: Graybill–Wang where both coefficients are above 0,
 * modified large sample where the second is below, exact χ² where it is 0.
 *
 * Near equal mean squares the lower Graybill–Wang limit errs up to 7 % instead of 5; the upper one errs at most 5 %.
 *
 * @param first its coefficient above 0
 * @param probability one-sided error probability, 0.05 for a 95 % limit
 * @throws InputError a coefficient, mean square or number of degrees of freedom that cannot be worked with
 * @see Graybill and Wang 1980, J. Am. Stat. Assoc. 75, 869; Ting, Burdick, Graybill and others 1990, J. Stat. Comput. Simul. 35, 135
 * @example
 * limitsOfVarianceSum({ coefficient: 1, meanSquare: 1, degreesOfFreedom: 5 }, { coefficient: 0, meanSquare: 1, degreesOfFreedom: 6 }, 0.05).upper // => 4.365
 */
export function limitsOfVarianceSum(
  first: MeanSquareTerm,
  second: MeanSquareTerm,
  probability: number,
): VarianceSumLimits {
  requireProbability(2 * probability, 'two-sided error probability');
  if (!(first.coefficient > 0)) {
    throw new InputError(`first coefficient: found ${first.coefficient}, expected a number above 0`);
  }
  const coverage = 1 - 2 * probability;
  const { interval } =
    second.coefficient > 0
      ? graybillWangInterval([first, second], coverage)
      : second.coefficient < 0
        ? modifiedLargeSampleInterval(first, { ...second, coefficient: -second.coefficient }, coverage)
        : varianceInterval(first.coefficient * first.meanSquare, first.degreesOfFreedom, coverage);
  return { lower: Math.max(0, interval.low), upper: interval.high };
}
