import { requireFinite } from '../errors.js';
import { formatSignificant } from '../quantities/rounding.js';
import { numericalTolerance } from './numerical-tolerance.js';

/** Comparison of the interval by the law of propagation with that of a simulation. */
export interface Agreement {
  readonly agrees: boolean;
  /** δ, and the number of digits of u that it stands for. */
  readonly tolerance: number;
  readonly digits: number;
  /** Distances of the lower and of the upper ends. */
  readonly lowDifference: number;
  readonly highDifference: number;
  /** The comparison in words. */
  readonly statement: string;
}

/**
 * Whether the law of propagation agrees with a simulation: both ends of estimate ± U lie within δ of the ends of the
 * simulated interval for the same coverage probability. Where they do not agree, the simulation stands.
 *
 * @param byPropagation estimate, its standard and expanded uncertainty
 * @param bySimulation ends of the probabilistically symmetric (or, for asymmetric cases, the shortest) interval
 * @param digits digits of u regarded as meaningful
 * @throws InputError ends that are not finite
 * @see JCGM 101:2008, clause 8
 * @example
 * const byPropagation = { estimate: 0, standardUncertainty: 2, expandedUncertainty: 3.92 };
 * agreementOf(byPropagation, { low: -3.88, high: 3.88 }).agrees // => true
 */
export function agreementOf(
  byPropagation: {
    readonly estimate: number;
    readonly standardUncertainty: number;
    readonly expandedUncertainty: number;
  },
  bySimulation: { readonly low: number; readonly high: number },
  digits = 2,
): Agreement {
  const { estimate, standardUncertainty, expandedUncertainty } = byPropagation;
  requireFinite(
    [estimate, expandedUncertainty, bySimulation.low, bySimulation.high],
    'ends of the intervals',
  );
  const tolerance = numericalTolerance(standardUncertainty, digits);
  const lowDifference = Math.abs(estimate - expandedUncertainty - bySimulation.low);
  const highDifference = Math.abs(estimate + expandedUncertainty - bySimulation.high);
  const agrees = Math.max(lowDifference, highDifference) <= tolerance;
  const words = agrees ? 'no more than' : 'and one is more than';
  const statement =
    `The ends of the two intervals differ by ${formatSignificant(lowDifference, 2)} and ` +
    `${formatSignificant(highDifference, 2)}, ${words} half a unit of digit ${digits} of the standard uncertainty ` +
    `(${tolerance}): the law of propagation ${agrees ? 'agrees with' : 'does not agree with'} the simulation.`;
  return { agrees, tolerance, digits, lowDifference, highDifference, statement };
}
