import type { StudyPlan } from '../records/study.js';

/**
 * The decision rule of a plan in words, with the work that it applies to: the rule of a validation does not bind a routine
 * run, whose plan states its own.
 *
 * @see ISO/IEC 17025:2017, 7.1.3 and 7.8.6.1
 */
export function decisionRuleText({ decisionRule, routine }: StudyPlan): string {
  return routine === undefined
    ? `${decisionRule}. This is the rule of the validation plan; a routine run decides by the rule that its own plan names, which its report prints`
    : decisionRule;
}

/** The rule of the validation that a run rests on, where the run goes by another; empty where both have one rule. */
export function otherRuleText(run: StudyPlan, validation: StudyPlan): string {
  return run.decisionRule === validation.decisionRule
    ? ''
    : `The plan of the validation, study ${validation.study}, names another rule, which does not apply to this run: ${validation.decisionRule}.`;
}
