import type { Finding } from '../../validation/finding.js';
import { column, text } from '../cells.js';
import type { Section, Table } from '../document.js';
import { listOf, paragraph, sectionOf } from '../section-of.js';
import { analyteName, characteristicId } from './finding-order.js';

/** Fitness of one analyte, as the validation layer states it. */
export interface FitnessStatement {
  readonly analyte: string;
  readonly sentence: string;
  readonly notMet: readonly Finding[];
  readonly open: readonly Finding[];
}

/** What the statement of fitness says. */
export interface FitnessParts {
  readonly intendedUse: string;
  readonly statements: readonly FitnessStatement[];
  /** Under what the statement holds: scope, rule of result, checks in routine use. */
  readonly conditions: readonly string[];
}

function openTable(statements: readonly FitnessStatement[]): Table[] {
  const rows = statements.flatMap(({ analyte, notMet, open }) =>
    [...notMet, ...open].map((finding) => [
      text(analyteName(analyte)),
      text(finding.characteristic, characteristicId(finding.characteristic)),
      text(finding.level === '*' ? 'all levels' : finding.level),
      text(finding.verdict),
      text(finding.reason),
    ]),
  );
  if (rows.length === 0) return [];
  return [
    {
      kind: 'table',
      id: 'fitness/open',
      caption: 'What is not met or not shown, and what would show it',
      columns: [
        column('Analyte'),
        column('Characteristic'),
        column('Level'),
        column('Verdict'),
        column('Ground, and what would show it'),
      ],
      rows,
      notes: [],
      groupedBy: 0,
    },
  ];
}

/**
 * The statement of fitness for the intended use, its conditions, and what is not shown with what would show it.
 *
 * @see ISO/IEC 17025:2017, 7.2.2.4 e
 */
export function fitnessSection({ intendedUse, statements, conditions }: FitnessParts): Section {
  return sectionOf({
    id: 'fitness',
    heading: 'Statement of fitness',
    clause: 'ISO/IEC 17025:2017, 7.2.2.4 e',
    blocks: [
      paragraph(`Intended use: ${intendedUse}. By the verdicts of this report:`),
      ...listOf(statements.map(({ sentence }) => sentence)),
      ...(conditions.length === 0 ? [] : [paragraph('The statement holds under these conditions:')]),
      ...listOf(conditions),
      ...openTable(statements),
      paragraph(
        'The program compares figures with criteria. Whether the method is released is decided by the authorised people who sign below.',
      ),
    ],
  });
}
