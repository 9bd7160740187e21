import type { PlannedCriterion } from '../../records/study.js';
import type { Finding, Verdict } from '../../validation/finding.js';
import { analyteName } from './finding-order.js';

/** Criteria about an exchange of equipment, which a report of its own judges. */
const afterChange: readonly string[] = ['shift after change', 'precision after change'];

const order: readonly Verdict[] = ['not met', 'not shown', 'not studied', 'met'];

/**
 * What became of a criterion of the plan, in words: `met (8)`, or what is not met or not shown with its analytes, or the report that judges it.
 *
 * @param findings all of the report; those that were judged by this criterion count
 */
export function criterionOutcome(planned: PlannedCriterion, findings: readonly Finding[]): string {
  if (afterChange.includes(planned.characteristic)) return 'judged in the report on an equipment change';
  const own = findings.filter((finding) => isJudgedBy(finding, planned));
  if (own.length === 0) return 'a more specific criterion counts in each case';
  return order
    .flatMap((verdict) => {
      const some = own.filter((finding) => finding.verdict === verdict);
      if (some.length === 0) return [];
      const condition = some.some(({ conditions }) => conditions !== undefined) ? ', on a condition' : '';
      if (verdict === 'met') return `met (${some.length}${condition})`;
      return `${verdict} (${[...new Set(some.map(placeOf))].join(', ')})`;
    })
    .join('; ');
}

function placeOf({ analyte, level }: Finding): string {
  return level === '*' ? analyteName(analyte) : analyte === '*' ? level : `${analyte} ${level}`;
}

function isJudgedBy({ characteristic, analyte, criterion }: Finding, planned: PlannedCriterion): boolean {
  return (
    criterion !== null &&
    characteristic === planned.characteristic &&
    (planned.analyte === '*' || analyte === '*' || analyte === planned.analyte) &&
    (['kind', 'limit', 'lower', 'unit', 'reason', 'owner'] as const).every(
      (key) => criterion[key] === planned[key],
    )
  );
}
