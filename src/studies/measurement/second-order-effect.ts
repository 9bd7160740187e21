import { InputError } from '../../errors.js';
import { formatSignificant } from '../../quantities/rounding.js';
import type { Budget } from '../../uncertainty/budget.js';
import { numericalTolerance } from '../../uncertainty/numerical-tolerance.js';
import type { Propagation } from '../../uncertainty/propagate.js';
import { type SecondOrderTerms, secondOrderTerms } from '../../uncertainty/propagation/second-order-terms.js';

/** What the terms beyond first order do to one output. */
export interface SecondOrderEffect {
  /** `null` where the expansion to second order does not hold. */
  readonly terms: SecondOrderTerms | null;
  /** Whether they change the second digit of the standard uncertainty, or the estimate by as much. */
  readonly matters: boolean;
  readonly statement: string;
}

/**
 * Second-order terms of one output and whether they matter: whether the standard uncertainty, or the mean, moves by
 * more than half a unit of the second digit of the standard uncertainty.
 *
 * @throws InputError as `propagate`
 * @see JCGM 100:2008, 5.1.2 note; the yardstick: JCGM 101:2008, 7.9.2
 */
export function secondOrderEffect(propagation: Propagation, budget: Budget): SecondOrderEffect {
  let terms: SecondOrderTerms;
  try {
    terms = secondOrderTerms(propagation.model, propagation.inputs, propagation.correlations, budget.output);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return { terms: null, matters: true, statement: `Second order: ${error.message}.` };
  }
  const { firstOrderUncertainty: first, standardUncertainty: second, meanShift } = terms;
  if (second === 0) return { terms, matters: false, statement: 'There are no second-order terms.' };
  const tolerance = numericalTolerance(second, 2);
  const moves = Math.abs(meanShift) > tolerance;
  const grows = Math.abs(second - first) > tolerance;
  const unit = budget.unit === '1' ? '' : ` ${budget.unit}`;
  const shown = (value: number): string => `${formatSignificant(value, 2)}${unit}`;
  const changes = [
    ...(grows ? [`u is ${shown(second)} instead of ${shown(first)}`] : []),
    ...(moves ? [`the mean lies ${shown(meanShift)} from the estimate`] : []),
  ];
  const matters = changes.length > 0;
  const statement = matters
    ? `With second-order terms ${changes.join(', and ')}: the model bends within the uncertainty of its inputs.`
    : 'Second-order terms change neither the estimate nor u by half a unit of the second digit of u.';
  return { terms, matters, statement };
}
