import { agreementKinds } from '../../studies/self-check/agreement.js';
import type { SelfCheckFigure } from '../../studies/self-check/self-check.js';
import { selfCheckSummary } from '../../studies/self-check/summary.js';
import { column, countCell, number, text } from '../cells.js';
import type { Section, Table } from '../document.js';
import { paragraph, sectionOf } from '../section-of.js';

/** Digits shown of a computed figure: those that agree, or were printed, and two more. */
function shownDigits({ digits, published }: SelfCheckFigure): number {
  const printed = published
    .replace(/e.*$/i, '')
    .replace(/[^0-9]/g, '')
    .replace(/^0+/, '').length;
  return Math.min(15, Math.max(3, Math.min(Math.ceil(digits), printed) + 2));
}

/** Where the printed figures of an example come from, in words. */
const takenFromWords: Readonly<Record<SelfCheckFigure['figureTakenFrom'], string>> = {
  'document read': 'document read',
  'remembered and recomputed': 'cited from memory',
};

const remembered =
  'Cited from memory: the example was recomputed, but its printed figures were written down without the document at hand. They are no evidence alone: compare them with your own copy of the document.';

/**
 * Numerical self-check: published examples run on the user's own machine.
 *
 * @param detail one row an example, or every figure
 * @see ISO/IEC 17025:2017, 7.11.2
 */
export function selfCheckSection(
  rows: readonly SelfCheckFigure[],
  detail: 'by example' | 'every figure' = 'by example',
): Section {
  const { text: outcome } = selfCheckSummary(rows);
  const exceptions = rows.filter(({ why }) => why !== undefined);
  return sectionOf({
    id: 'self-check',
    heading: 'Numerical self-check',
    clause: 'ISO/IEC 17025:2017, 7.11.2',
    blocks: [
      paragraph(`Published examples were recomputed on the machine that made this report: ${outcome}.`),
      detail === 'every figure' ? figureTable(rows) : exampleTable(rows),
      ...(exceptions.length === 0 ? [] : [exceptionTable(exceptions)]),
    ],
  });
}

/** One row an example: its figures counted by kind of agreement. */
function exampleTable(rows: readonly SelfCheckFigure[]): Table {
  const places = [...new Set(rows.map(({ source, clause }) => `${source}\n${clause}`))];
  return {
    kind: 'table',
    id: 'self-check/examples',
    caption: 'Published examples and how many of their figures were met',
    columns: [
      column('Source'),
      column('Clause'),
      column('Figures'),
      ...agreementKinds.map((kind) => column(`${kind[0]!.toUpperCase()}${kind.slice(1)}`)),
      column('Figures taken from'),
    ],
    rows: places.map((place) => {
      const own = rows.filter(({ source, clause }) => `${source}\n${clause}` === place);
      const { figures, counts } = selfCheckSummary(own);
      return [
        text(own[0]!.source),
        text(own[0]!.clause),
        countCell(figures),
        ...agreementKinds.map((kind) => countCell(counts[kind])),
        text([...new Set(own.map(({ figureTakenFrom }) => takenFromWords[figureTakenFrom]))].join('; ')),
      ];
    }),
    notes: [
      'Agrees: to half a unit of the last printed digit. Every figure stands in the report on accreditation evidence and is printed by `npx meltbook self-check`.',
      remembered,
    ],
    groupedBy: 0,
  };
}

function figureTable(rows: readonly SelfCheckFigure[]): Table {
  return {
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
      column('Agreement'),
      column('Figure taken from'),
    ],
    rows: rows.map((row) => [
      text(row.source),
      text(row.clause),
      text(row.quantity),
      text(row.published),
      number(row.computed, shownDigits(row)),
      number(row.digits, 2),
      text(row.agreement),
      text(takenFromWords[row.figureTakenFrom]),
    ]),
    notes: [remembered],
    groupedBy: 0,
  };
}

/** Printed figures that exact calculation does not give, each with its arithmetic. */
function exceptionTable(rows: readonly SelfCheckFigure[]): Table {
  return {
    kind: 'table',
    id: 'self-check/exceptions',
    caption: 'Known exceptions: what exact calculation gives in place of the printed figure, and why',
    columns: [
      column('Source'),
      column('Quantity'),
      column('Published'),
      column('Computed'),
      column('Arithmetic'),
    ],
    rows: rows.map((row) => [
      text(`${row.source}, ${row.clause}`),
      text(row.quantity),
      text(row.published),
      number(row.computed, shownDigits(row)),
      text(row.why!),
    ]),
    notes: [
      'Each computed figure equals the exact value on file to nine digits; it is not counted as agreeing.',
    ],
  };
}
