import { requireFinite } from '../../errors.js';
import { tDistribution } from '../distributions/student-t.js';
import { type AcceptanceLimits, type DecisionRule, guardedLimits, isEmpty } from './acceptance-limits.js';
import { conformancePercent, conformanceProbability } from './conformance-probability.js';
import type { ToleranceLimits } from './tolerance-limits.js';

/** A measured value for a decision. */
export interface MeasuredValue {
  readonly estimate: number;
  readonly standardUncertainty: number;
  /** `Infinity` unless stated. */
  readonly degreesOfFreedom?: number;
}

/** Statement of conformity with the rule and the specification it rests on. */
export interface ConformityStatement {
  readonly accepted: boolean;
  /** Probability that the measurand lies within the tolerance limits. */
  readonly conformanceProbability: number;
  readonly specification: ToleranceLimits;
  /** Null where the guard bands leave nothing between the tolerance limits: no value is then accepted. */
  readonly acceptance: AcceptanceLimits | null;
  /** The decision in words, with specification and rule. */
  readonly statement: string;
}

/**
 * Decision whether a result conforms with a specification, by a stated rule.
 *
 * @throws InputError limits that are none, a risk not between 0 and 0.5, an uncertainty not above 0
 * @see JCGM 106:2012, 7 and 8; ISO/IEC 17025:2017, 7.8.6
 * @example
 * const measured = { estimate: 97, standardUncertainty: 2 };
 * conformityStatement(measured, { upper: 100 }, { kind: 'simple acceptance' }).accepted // => true
 */
export function conformityStatement(
  measured: MeasuredValue,
  limits: ToleranceLimits,
  rule: DecisionRule,
): ConformityStatement {
  const { estimate, standardUncertainty, degreesOfFreedom = Infinity } = measured;
  requireFinite([estimate], 'estimate');
  const guarded = guardedLimits(limits, { standardUncertainty, degreesOfFreedom }, rule);
  const acceptance = isEmpty(guarded) ? null : guarded;
  const accepted =
    acceptance !== null &&
    (acceptance.lower === undefined || estimate >= acceptance.lower) &&
    (acceptance.upper === undefined || estimate <= acceptance.upper);
  const distribution = tDistribution(estimate, standardUncertainty, degreesOfFreedom);
  const probability = conformanceProbability(distribution, limits);
  const nothing =
    acceptance === null
      ? '; its guard bands leave nothing between the limits at this uncertainty, so that no value is accepted'
      : '';
  const statement =
    `${accepted ? 'Accepted' : 'Rejected'} against ${limitsInWords(limits)} by ${ruleInWords(rule)}${nothing}; ` +
    `conformance probability ${conformancePercent(probability)} %.`;
  return { accepted, conformanceProbability: probability, specification: limits, acceptance, statement };
}

function limitsInWords({ lower, upper }: ToleranceLimits): string {
  if (lower === undefined) return `the upper limit ${upper}`;
  return upper === undefined ? `the lower limit ${lower}` : `the limits ${lower} and ${upper}`;
}

function ruleInWords(rule: DecisionRule): string {
  if (rule.kind === 'simple acceptance') return rule.kind;
  return `${rule.kind} with a risk of at most ${Number((100 * rule.risk).toPrecision(6))} % at each limit`;
}
