import { formatSignificant } from '../../quantities/rounding.js';
import { type Agreement, agreementOf } from '../../uncertainty/agreement.js';
import type { Budget } from '../../uncertainty/budget.js';
import type { SimulatedOutput } from '../../uncertainty/simulation/simulation.js';
import { disagreementReasons } from './disagreement-reasons.js';
import type { SecondOrderEffect } from './second-order-effect.js';

/** The law of propagation held against a simulation, for one output. */
export interface MethodComparison {
  /**
   * `not decided` where the simulation's own numerical error is large enough to bring the difference of the ends from
   * within δ to beyond it.
   */
  readonly outcome: 'agree' | 'differ' | 'not decided';
  readonly agreement: Agreement;
  /** Twice the larger standard error of the ends of the simulated interval. */
  readonly numericalError: number;
  /** The outcome in words. */
  readonly statement: string;
  /** Where the methods differ: what is likely to make them differ. */
  readonly reasons: readonly string[];
}

/**
 * Compares estimate ± U of the law of propagation with the probabilistically symmetric interval of a simulation.
 *
 * @param digits digits of u regarded as meaningful
 * @throws InputError neither method gives a standard uncertainty above 0
 * @see JCGM 101:2008, clause 8
 */
export function compareMethods(
  budget: Budget,
  secondOrder: SecondOrderEffect,
  simulated: SimulatedOutput,
  digits: number,
): MethodComparison {
  // Where the first-order uncertainty vanishes, δ is that of the simulation.
  const standardUncertainty =
    budget.standardUncertainty > 0 ? budget.standardUncertainty : (simulated.standardUncertainty ?? 0);
  const agreement = agreementOf({ ...budget, standardUncertainty }, simulated.symmetric, digits);
  const { symmetricLow, symmetricHigh } = simulated.numericalStandardErrors;
  const numericalError = 2 * Math.max(symmetricLow, symmetricHigh);
  const { lowDifference, highDifference, tolerance } = agreement;
  const surely = Math.max(lowDifference - 2 * symmetricLow, highDifference - 2 * symmetricHigh) > tolerance;
  const outcome = agreement.agrees ? 'agree' : surely ? 'differ' : 'not decided';
  return {
    outcome,
    agreement,
    numericalError,
    statement: agreement.statement + afterthought(outcome, numericalError, tolerance),
    reasons: outcome === 'differ' ? disagreementReasons(budget, secondOrder) : [],
  };
}

function afterthought(outcome: MethodComparison['outcome'], error: number, tolerance: number): string {
  if (outcome === 'differ') return ' The simulation stands: its interval is the one to report.';
  const known = `The ends of the simulated interval are known to ${formatSignificant(error, 2)} only`;
  if (outcome === 'not decided')
    return ` ${known}: this does not decide it. More trials would, or fewer digits that count.`;
  return error > tolerance ? ` ${known}: more trials would confirm it.` : '';
}
