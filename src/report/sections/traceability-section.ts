import type { ReferenceRecord } from '../../records/tables/references.js';
import type { StandardRecord } from '../../records/tables/standards.js';
import { column, number, numberOr, text } from '../cells.js';
import type { Section, Table } from '../document.js';
import { digitsAsGiven } from '../html/typeset-number.js';
import { listOf, paragraph, sectionOf } from '../section-of.js';

const asGiven = (value: number) => number(value, digitsAsGiven(value));

function standardsTable(standards: readonly StandardRecord[]): Table {
  return {
    kind: 'table',
    id: 'traceability/standards',
    caption: 'Stock and intermediate standards',
    columns: [
      column('Standard'),
      column('Analyte'),
      column('Value'),
      column('U'),
      column('k'),
      column('Unit'),
      column('Certificate'),
      column('Expiry'),
      column('Prepared from'),
      column('Aliquot', 'g'),
      column('Final', 'g'),
    ],
    rows: standards.map((standard) => [
      text(standard.name),
      text(standard.analyte),
      asGiven(standard.value),
      asGiven(standard.expandedUncertainty),
      asGiven(standard.coverageFactor),
      text(standard.unit),
      text(standard.certificate),
      text(standard.expiry),
      text(standard.preparedFrom === '' ? 'stock' : standard.preparedFrom),
      numberOr(standard.aliquotG, 6, ''),
      numberOr(standard.finalG, 6, ''),
    ]),
    notes: [],
  };
}

function referencesTable(references: readonly ReferenceRecord[]): Table {
  return {
    kind: 'table',
    id: 'traceability/references',
    caption: 'Reference materials',
    columns: [
      column('Material'),
      column('Analyte'),
      column('Certified value'),
      column('U'),
      column('k'),
      column('Unit'),
      column('Certificate'),
      column('Minimum portion', 'g'),
      column('Basis'),
      column('Expiry'),
    ],
    rows: references.map((reference) => [
      text(reference.material),
      text(reference.analyte),
      asGiven(reference.value),
      asGiven(reference.expandedUncertainty),
      asGiven(reference.coverageFactor),
      text(reference.unit),
      text(reference.certificate),
      asGiven(reference.minimumPortionG),
      text(reference.basis),
      text(reference.expiry),
    ]),
    notes: [],
    groupedBy: 0,
  };
}

function expired(
  items: readonly { readonly name: string; readonly expiry: string }[],
  lastDay: string,
): string[] {
  const named = items
    .filter(({ expiry }) => expiry < lastDay)
    .map(({ name, expiry }) => `${name} expired on ${expiry}; the work lasted until ${lastDay}.`);
  return [...new Set(named)];
}

/**
 * Where values come from: standards with their certificates and dilutions, reference materials, the flux lot. What had
 * expired by the last day of the work is named.
 *
 * @param lastDay last day of the work, ISO date
 * @see ISO/IEC 17025:2017, 6.5, 6.6
 */
export function traceabilitySection(
  standards: readonly StandardRecord[],
  references: readonly ReferenceRecord[],
  fluxLot: string,
  lastDay: string,
): Section {
  const materials = references.map(({ material, expiry }) => ({ name: material, expiry }));
  return sectionOf({
    id: 'traceability',
    heading: 'Traceability of standards and reference materials',
    clause: 'ISO/IEC 17025:2017, 6.5, 6.6',
    blocks: [
      paragraph(`Flux lot ${fluxLot}. A new lot asks for new blanks and a new limit of quantification.`),
      ...(standards.length === 0 ? [paragraph('No standards are recorded.')] : [standardsTable(standards)]),
      ...(references.length === 0
        ? [paragraph('No reference materials are recorded.')]
        : [referencesTable(references)]),
      ...listOf([...expired(standards, lastDay), ...expired(materials, lastDay)]),
    ],
  });
}
