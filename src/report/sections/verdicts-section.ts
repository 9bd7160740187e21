import type { Finding } from '../../validation/finding.js';
import type { Block, Figure, Section } from '../document.js';
import { verdictOverview } from '../figures/verdict-overview.js';
import { paragraph, sectionOf } from '../section-of.js';
import { findingsInOrder } from './finding-order.js';
import { verdictMatrix, verdictTable } from './verdict-table.js';

/** Findings drawn in one figure: what a page holds. */
const drawnTogether = 36;

function overviews(findings: readonly Finding[]): Figure[] {
  const ordered = findingsInOrder(findings).filter(
    ({ estimate, limits, criterion }) => estimate !== null && limits !== null && criterion !== null,
  );
  const count = Math.ceil(ordered.length / drawnTogether);
  const size = Math.ceil(ordered.length / Math.max(1, count));
  return Array.from({ length: count }, (_, index) => {
    const part = count === 1 ? '' : `, part ${index + 1} of ${count}`;
    return verdictOverview(
      `verdicts/overview-${index + 1}`,
      `Estimates with one-sided 95 % limits relative to their criteria${part}: at most 1 is allowed; for a criterion with two sides −1 to 1, negative on the low side`,
      ordered.slice(index * size, (index + 1) * size),
    );
  });
}

/** Findings with a criterion that no figure can show, as they have no limits. */
function notDrawn(findings: readonly Finding[]): Block[] {
  const without = findings.filter((f) => f.criterion !== null && (f.estimate === null || f.limits === null));
  if (without.length === 0) return [];
  const names = [...new Set(without.map((f) => f.characteristic))].join(', ');
  return [
    paragraph(
      `Not drawn, as they have no confidence limits: ${without.length} findings on ${names}. They stand in the table of all findings.`,
    ),
  ];
}

/**
 * Verdicts first: one page at a glance, then estimates against criteria as figures, then the table of all findings.
 *
 * @param findings of all characteristics, analytes and levels; the document must hold a `characteristicSection` for each characteristic
 * @see ISO/IEC 17025:2017, 7.2.2.4 d
 */
export function verdictsSection(findings: readonly Finding[]): Section {
  return sectionOf({
    id: 'verdicts',
    heading: 'Verdicts',
    clause: 'ISO/IEC 17025:2017, 7.2.2.4 d',
    blocks: [verdictMatrix('verdicts/matrix', findings)],
    sections: [
      sectionOf({
        id: 'verdicts/against-criteria',
        heading: 'Estimates against criteria',
        blocks: [...overviews(findings), ...notDrawn(findings)],
      }),
      sectionOf({
        id: 'verdicts/all',
        heading: 'All findings',
        startsPage: true,
        blocks: [verdictTable('verdicts/table', findings)],
      }),
    ],
  });
}
