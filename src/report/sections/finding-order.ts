import type { Finding, Verdict } from '../../validation/finding.js';

/** What needs attention comes first; a characteristic without data weighs more where a criterion was set for it. */
const ranks: Readonly<Record<Verdict, number>> = {
  'not met': 0,
  'not shown': 1,
  'not studied': 5,
  met: 3,
  'no criterion': 4,
};

/**
 * Place of a finding in an order that puts first what needs attention: not met, not shown, not studied though asked for,
 * met, without criterion.
 *
 * @returns a number; the lower, the more it needs attention
 */
export function findingRank(finding: Finding): number {
  return finding.verdict === 'not studied' && finding.criterion !== null ? 2 : ranks[finding.verdict];
}

/** Findings gathered by analyte in the order given, each group with what needs attention first. */
export function findingsInOrder(findings: readonly Finding[]): Finding[] {
  const analytes = [...new Set(findings.map(({ analyte }) => analyte))];
  return analytes.flatMap((analyte) =>
    findings
      .filter((finding) => finding.analyte === analyte)
      .sort((first, second) => findingRank(first) - findingRank(second)),
  );
}

/** Name of an analyte for readers; `*` stands for all. */
export function analyteName(analyte: string): string {
  return analyte === '*' ? 'all analytes' : analyte;
}

/** Identifier of the section that treats a characteristic: where rows of the table of verdicts lead. */
export function characteristicId(characteristic: string): string {
  return `characteristic/${characteristic}`;
}
