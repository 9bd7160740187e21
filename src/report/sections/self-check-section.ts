import { column, number, text } from '../cells.js';
import type { Section } from '../document.js';
import { paragraph, sectionOf } from '../section-of.js';

/** One published figure recomputed on this machine. */
export interface SelfCheckRow {
  readonly source: string;
  readonly clause: string;
  readonly quantity: string;
  /** As printed in the source. */
  readonly published: string;
  readonly computed: number;
  /** Digits in which both agree. */
  readonly digits: number;
  readonly holds: boolean;
  readonly figureTakenFrom: 'document read' | 'remembered and recomputed';
}

/** Digits shown of a computed figure: those that agree and two more. */
function shownDigits(row: SelfCheckRow): number {
  return Math.min(15, Math.max(3, Math.ceil(row.digits) + 2));
}

/**
 * Numerical self-check: published examples run on the user's own machine.
 *
 * @see ISO/IEC 17025:2017, 7.11.2
 */
export function selfCheckSection(rows: readonly SelfCheckRow[]): Section {
  const failed = rows.filter(({ holds }) => !holds).length;
  const outcome =
    failed === 0 ? `All ${rows.length} figures hold.` : `${failed} of ${rows.length} figures do not hold.`;
  return sectionOf({
    id: 'self-check',
    heading: 'Numerical self-check',
    clause: 'ISO/IEC 17025:2017, 7.11.2',
    blocks: [
      paragraph(`Published examples were recomputed on the machine that made this report. ${outcome}`),
      {
        kind: 'table',
        id: 'self-check/rows',
        caption: 'Published and computed figures',
        columns: [
          column('Source'),
          column('Clause'),
          column('Quantity'),
          column('Published'),
          column('Computed'),
          column('Digits in agreement'),
          column('Holds'),
          column('Figure taken from'),
        ],
        rows: rows.map((row) => [
          text(row.source),
          text(row.clause),
          text(row.quantity),
          text(row.published),
          number(row.computed, shownDigits(row)),
          number(row.digits, 2),
          text(row.holds ? 'yes' : 'no'),
          text(row.figureTakenFrom),
        ]),
        notes: [
          'Rows remembered and recomputed are no evidence alone: please compare them with your own copy of the document.',
        ],
        groupedBy: 0,
      },
    ],
  });
}
