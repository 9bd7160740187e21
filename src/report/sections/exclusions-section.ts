import type { LeftUnused } from '../../records/left-unused.js';
import type { ExclusionRecord } from '../../records/tables/exclusions.js';
import { column, text } from '../cells.js';
import type { Block, Section } from '../document.js';
import { paragraph, sectionOf } from '../section-of.js';

/**
 * Rows left out of the calculations, with who, when and the technical cause; the program itself leaves nothing out.
 *
 * @param exclusions records of exclusions
 * @param unused rows that enter no result of some analytes without an exclusion
 * @param more blocks after the table, such as results with and without each exclusion
 */
export function exclusionsSection(
  exclusions: readonly ExclusionRecord[],
  unused: readonly LeftUnused[] = [],
  more: readonly Block[] = [],
): Section {
  const rule =
    'Unusual values are flagged and kept. A row is left out only where the records give a technical cause. The cause stands below as it was recorded; the evidence for it (an examination, a measurement, a photograph) is no part of these records and is kept by the person named.';
  const table: Block = {
    kind: 'table',
    id: 'exclusions/rows',
    caption: 'Rows left out',
    columns: [column('Table'), column('Row'), column('By'), column('On'), column('Technical cause')],
    rows: exclusions.map((exclusion) => [
      text(exclusion.table),
      text(exclusion.rowKey),
      text(exclusion.who),
      text(exclusion.when),
      text(exclusion.technicalCause),
    ]),
    notes: [],
    groupedBy: 0,
  };
  return sectionOf({
    id: 'exclusions',
    heading: 'Exclusions',
    clause: 'ISO/IEC 17025:2017, 7.5.2, 7.10',
    blocks: [
      paragraph(rule),
      exclusions.length === 0 ? paragraph('No row was left out.') : table,
      ...unusedBlocks(unused),
      ...more,
    ],
  });
}

function unusedBlocks(unused: readonly LeftUnused[]): Block[] {
  if (unused.length === 0) return [];
  return [
    {
      kind: 'caution',
      text: `${unused.length} digestion(s) or standard(s) enter no result of an analyte, and no exclusion of them says why: what was never read, or has no content recorded, is missing from every figure.`,
    },
    {
      kind: 'table',
      id: 'exclusions/unused',
      caption: 'Recorded and in no result',
      columns: [column('Table'), column('Row'), column('Missing')],
      rows: unused.map(({ table, name, missing }) => [text(table), text(name), text(missing)]),
      notes: [],
      groupedBy: 0,
    },
  ];
}
