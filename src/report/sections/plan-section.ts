import type { StudyPlan } from '../../records/study.js';
import type { Finding } from '../../validation/finding.js';
import { column, text } from '../cells.js';
import type { Section, Table } from '../document.js';
import { paragraph, sectionOf } from '../section-of.js';
import { criterionOutcome } from './criterion-outcome.js';
import { criterionText } from './criterion-text.js';
import { analyteName } from './finding-order.js';

/**
 * The plan: its date and owner, and every criterion with its reason and owner, as set before the work.
 *
 * @param plan the plan of the study
 * @param firstDay first day of work, ISO date; the text says whether the plan is older
 * @param findings where given, each criterion says what became of it
 * @see ISO/IEC 17025:2017, 7.2.2.4 a and b
 */
export function planSection(
  plan: StudyPlan,
  firstDay: string,
  findings: readonly Finding[] | null = null,
): Section {
  const isBefore = plan.planDate <= firstDay;
  const order = isBefore
    ? `before the first digestion of ${firstDay}`
    : `but the first digestion is of ${firstDay}: the criteria were not set before the work`;
  return sectionOf({
    id: 'plan',
    heading: 'Plan and criteria',
    clause: 'ISO/IEC 17025:2017, 7.2.2.4 a, b',
    blocks: [
      paragraph(`The plan is dated ${plan.planDate}, ${order}. Its owner is ${plan.planOwner}.`),
      criteriaTable(plan, findings),
    ],
  });
}

/** In order of first appearance of the characteristic, so that each heading of the table stands once. */
function byCharacteristic<T extends { readonly characteristic: string }>(criteria: readonly T[]): T[] {
  const names = [...new Set(criteria.map(({ characteristic }) => characteristic))];
  return names.flatMap((name) => criteria.filter(({ characteristic }) => characteristic === name));
}

/** Every criterion of a plan with its reason and owner; where findings are given, what became of each. */
export function criteriaTable(plan: StudyPlan, findings: readonly Finding[] | null = null): Table {
  return {
    kind: 'table',
    id: 'plan/criteria',
    caption: 'Criteria',
    columns: [
      column('Characteristic'),
      column('Analyte'),
      column('Level'),
      column('Criterion'),
      column('Reason'),
      column('Owner'),
      ...(findings === null ? [] : [column('Verdict')]),
    ],
    rows: byCharacteristic(plan.criteria).map((criterion) => [
      text(criterion.characteristic),
      text(analyteName(criterion.analyte)),
      text(criterion.level === '*' ? 'all levels' : criterion.level),
      text(criterionText(criterion)),
      text(criterion.reason),
      text(criterion.owner),
      ...(findings === null ? [] : [text(criterionOutcome(criterion, findings))]),
    ]),
    notes: [
      'Where several criteria fit, the most specific one counts.',
      ...(findings === null
        ? []
        : ['Verdict: in brackets the number of findings, or the analytes, levels and samples concerned.']),
    ],
    groupedBy: 0,
  };
}
