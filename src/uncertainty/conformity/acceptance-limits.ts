import { InputError, requirePositive, requireProbability } from '../../errors.js';
import { normalQuantile } from '../../statistics/distributions/normal.js';
import { coverageFactor } from '../coverage-factor.js';
import { requireLimits, type ToleranceLimits } from './tolerance-limits.js';

/**
 * How a measured value is judged against tolerance limits.
 * `simple acceptance`: by the limits themselves; the measurement uncertainty is limited beforehand.
 * `guarded acceptance`: accepted where the risk of a non-conforming item is at most `risk` at each limit.
 * `guarded rejection`: rejected only where the risk of a conforming item is at most `risk` at each limit.
 */
export type DecisionRule =
  | { readonly kind: 'simple acceptance' }
  | { readonly kind: 'guarded acceptance' | 'guarded rejection'; readonly risk: number };

/** Standard uncertainty of the measured value: one figure, or a fraction of the value. */
export type UncertaintyOfValue =
  | { readonly standardUncertainty: number; readonly degreesOfFreedom?: number }
  | { readonly relativeStandardUncertainty: number };

/** Limits for the measured value. */
export interface AcceptanceLimits extends ToleranceLimits {
  readonly rule: DecisionRule;
  /** Guard band in standard uncertainties, positive inwards: 1.645 for guarded acceptance with a risk of 5 %. */
  readonly guardFactor: number;
}

/**
 * Acceptance limits: tolerance limits moved by a guard band of so many standard uncertainties that the stated risk is
 * kept at each limit by itself.
 *
 * @throws InputError limits that are none; a risk not between 0 and 0.5; guard bands that leave no interval
 * @see JCGM 106:2012, 8.2 and 8.3; ILAC-G8:2019, 4
 * @example
 * const rule = { kind: 'guarded acceptance', risk: 0.05 };
 * acceptanceLimits({ upper: 100 }, { standardUncertainty: 2 }, rule).upper // => 96.7102927461
 */
export function acceptanceLimits(
  limits: ToleranceLimits,
  uncertainty: UncertaintyOfValue,
  rule: DecisionRule,
): AcceptanceLimits {
  const guarded = guardedLimits(limits, uncertainty, rule);
  if (isEmpty(guarded)) {
    throw new InputError(
      `guard bands leave nothing of the tolerance interval ${limits.lower} to ${limits.upper}: the standard ` +
        'uncertainty is too large for this rule',
    );
  }
  return guarded;
}

/**
 * The same where the guard bands may leave no interval: the lower limit then lies above the upper one.
 *
 * @throws InputError limits that are none; a risk not between 0 and 0.5
 */
export function guardedLimits(
  limits: ToleranceLimits,
  uncertainty: UncertaintyOfValue,
  rule: DecisionRule,
): AcceptanceLimits {
  requireLimits(limits);
  const guardFactor = guardFactorOf(rule, uncertainty);
  const lower = limits.lower === undefined ? undefined : moved(limits.lower, guardFactor, uncertainty);
  const upper = limits.upper === undefined ? undefined : moved(limits.upper, -guardFactor, uncertainty);
  return {
    ...(lower === undefined ? {} : { lower }),
    ...(upper === undefined ? {} : { upper }),
    rule,
    guardFactor,
  };
}

/** Whether limits leave no interval between them. */
export function isEmpty({ lower, upper }: ToleranceLimits): boolean {
  return lower !== undefined && upper !== undefined && !(lower < upper);
}

function guardFactorOf(rule: DecisionRule, uncertainty: UncertaintyOfValue): number {
  if (rule.kind === 'simple acceptance') return 0;
  requireProbability(rule.risk, 'risk');
  if (rule.risk >= 0.5) throw new InputError(`risk: found ${rule.risk}, expected a number below 0.5`);
  const nu = 'standardUncertainty' in uncertainty ? uncertainty.degreesOfFreedom : undefined;
  const factor =
    nu === undefined || nu === Infinity ? -normalQuantile(rule.risk) : coverageFactor(nu, 1 - 2 * rule.risk);
  return rule.kind === 'guarded acceptance' ? factor : -factor;
}

/** With a relative uncertainty r the limit T moves to the value y for which y = T + factor·r·|y|. */
function moved(limit: number, factor: number, uncertainty: UncertaintyOfValue): number {
  if ('standardUncertainty' in uncertainty) {
    requirePositive(uncertainty.standardUncertainty, 'standard uncertainty');
    return limit + factor * uncertainty.standardUncertainty;
  }
  const relative = uncertainty.relativeStandardUncertainty;
  requirePositive(relative, 'relative standard uncertainty');
  const divisor = 1 - factor * relative * Math.sign(limit);
  if (divisor > 0) return limit / divisor;
  throw new InputError(`relative standard uncertainty: found ${relative}, too large for this rule`);
}
