import { column, empty, text } from '../cells.js';
import type { Cell, Section, Table } from '../document.js';
import { paragraph, sectionOf } from '../section-of.js';

/** How far the records answer one clause of ISO/IEC 17025:2017. */
export interface EvidenceEntry {
  readonly clause: string;
  /** What the clause asks, in our own words. */
  readonly asks: string;
  readonly state: 'held' | 'partly held' | 'missing';
  readonly holds: readonly string[];
  readonly gaps: readonly string[];
}

const listed = (items: readonly string[], without: string): Cell =>
  items.length === 0 ? empty(without) : text(items.join('; '));

function gapTable(entries: readonly EvidenceEntry[]): Table {
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
export function evidenceSection(entries: readonly EvidenceEntry[]): Section {
  const open = entries.filter(({ state }) => state !== 'held');
  const count = `${entries.length - open.length} of ${entries.length} clauses are answered by the records at hand.`;
  return sectionOf({
    id: 'evidence',
    heading: 'Evidence by clause',
    clause: 'ISO/IEC 17025:2017',
    blocks: [
      paragraph(count),
      ...(open.length === 0 ? [] : [gapTable(open)]),
      {
        kind: 'table',
        id: 'evidence/all',
        caption: 'All clauses',
        columns: [column('Clause'), column('What is asked'), column('State'), column('Held')],
        rows: entries.map(({ clause, asks, state, holds }) => [
          text(clause),
          text(asks),
          text(state),
          listed(holds, 'nothing'),
        ]),
        notes: ['What is asked is put in our own words; the standard itself decides.'],
      },
    ],
  });
}
