import type { EvidenceItem } from '../../studies/accreditation-evidence.js';
import { column, empty, text } from '../cells.js';
import type { Cell, Section, Table } from '../document.js';
import { paragraph, sectionOf } from '../section-of.js';

const listed = (items: readonly string[], without: string): Cell =>
  items.length === 0 ? empty(without) : text(items.join('; '));

function gapTable(entries: readonly EvidenceItem[]): Table {
  return {
    kind: 'table',
    id: 'evidence/gaps',
    caption: 'What is missing',
    columns: [column('Clause'), column('What is asked'), column('State'), column('Missing')],
    rows: entries.map(({ clause, asks, state, gaps }) => [
      text(clause),
      text(asks),
      text(state),
      listed(gaps, 'not said'),
    ]),
    notes: [],
  };
}

/**
 * Evidence by clause of ISO/IEC 17025:2017: what is missing first, then all clauses with what is held.
 *
 * @param entries in the order of the clauses
 */
export function evidenceSection(entries: readonly EvidenceItem[]): Section {
  const open = entries.filter(({ state }) => state === 'missing' || state === 'partly held');
  const count = (wanted: EvidenceItem['state']) => entries.filter(({ state }) => state === wanted).length;
  const counts = `Of ${entries.length} clauses, ${count('held')} are answered by the records at hand and ${count('named elsewhere')} with evidence that the plan says is kept elsewhere, which this program has not seen. These are the clauses of chapters 6 to 8 that the records of a method can bear on; those on the organisation as a whole are left to its management system. Whether evidence is enough, the assessor decides.`;
  return sectionOf({
    id: 'evidence',
    heading: 'Evidence by clause',
    clause: 'ISO/IEC 17025:2017',
    blocks: [
      paragraph(counts),
      ...(open.length === 0 ? [] : [gapTable(open)]),
      {
        kind: 'table',
        id: 'evidence/all',
        caption: 'All clauses',
        columns: [
          column('Clause'),
          column('What is asked'),
          column('State'),
          column('Held'),
          column('Named elsewhere'),
        ],
        rows: entries.map(({ clause, asks, state, holds, elsewhere }) => [
          text(clause),
          text(asks),
          text(state),
          listed(holds, 'nothing'),
          listed(elsewhere, ''),
        ]),
        notes: ['What is asked is put in our own words; the standard itself decides.'],
      },
    ],
  });
}
