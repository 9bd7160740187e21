import type { EquipmentRecord } from '../../records/study.js';
import { column, text } from '../cells.js';
import type { Block, Cell, Section } from '../document.js';
import { listOf, paragraph, sectionOf } from '../section-of.js';

/** First and last day of the work, ISO dates. */
export interface Period {
  readonly firstDay: string;
  readonly lastDay: string;
}

function inUse({ inServiceFrom, inServiceTo }: EquipmentRecord, { firstDay, lastDay }: Period): boolean {
  return inServiceFrom <= lastDay && (inServiceTo === null || inServiceTo >= firstDay);
}

function lastUse({ inServiceTo }: EquipmentRecord, { lastDay }: Period): string {
  return inServiceTo !== null && inServiceTo < lastDay ? inServiceTo : lastDay;
}

/**
 * Equipment whose calibration was overdue on its last day of use within the period.
 *
 * @example
 * overdue([], { firstDay: '2026-03-01', lastDay: '2026-03-31' }).length // => 0
 */
export function overdue(equipment: readonly EquipmentRecord[], period: Period): EquipmentRecord[] {
  return equipment.filter((item) => inUse(item, period) && item.dueOn < lastUse(item, period));
}

function row(item: EquipmentRecord, period: Period): Cell[] {
  return [
    text(item.id),
    text(`${item.kind}: ${item.description}`),
    text(item.location),
    text(`${item.inServiceFrom} to ${item.inServiceTo ?? 'now'}`),
    text(item.certificate),
    text(item.calibratedOn),
    text(item.dueOn),
    text(inUse(item, period) ? 'yes' : 'no'),
  ];
}

/** Equipment in service on a day of the period, by name. */
export function equipmentInUse(equipment: readonly EquipmentRecord[], period: Period): EquipmentRecord[] {
  return equipment.filter((item) => inUse(item, period));
}

/** What came after the work: nothing in the report was measured on it. */
function laterText(equipment: readonly EquipmentRecord[], { lastDay }: Period): Block[] {
  const later = equipment.filter(({ inServiceFrom }) => inServiceFrom > lastDay);
  if (later.length === 0) return [];
  const names = later.map(({ id, inServiceFrom }) => `${id} (from ${inServiceFrom})`).join(', ');
  return [
    paragraph(
      `Entered service after the last day of this work: ${names}. Nothing in this report was measured on it; whether the method holds on it is judged in the report on an equipment change.`,
    ),
  ];
}

/** Equipment in service during the work on days before its calibration in the register, and from which day on. */
function olderThanCertificate(equipment: readonly EquipmentRecord[], period: Period): string[] {
  const firstUse = ({ inServiceFrom }: EquipmentRecord) =>
    inServiceFrom > period.firstDay ? inServiceFrom : period.firstDay;
  return equipmentInUse(equipment, period)
    .filter((item) => firstUse(item) < item.calibratedOn)
    .map(
      (item) =>
        `${item.id} was in service during this work from ${firstUse(item)} on; the certificate of ${item.id} of that time is not in the register: before ${item.calibratedOn}.`,
    );
}

/**
 * Register of equipment with certificates and due dates; what was overdue while in use is named, and what
 * was in use before the calibration on file.
 *
 * @param equipment the register
 * @param period days of the work
 * @see ISO/IEC 17025:2017, 6.4.7, 6.4.13, 6.5
 */
export function equipmentSection(equipment: readonly EquipmentRecord[], period: Period): Section {
  return sectionOf({
    id: 'equipment',
    heading: 'Equipment',
    clause: 'ISO/IEC 17025:2017, 6.4, 6.5',
    blocks: [
      {
        kind: 'table',
        id: 'equipment/register',
        caption: `Equipment, certificates and due dates; work from ${period.firstDay} to ${period.lastDay}`,
        columns: [
          column('Equipment'),
          column('Description'),
          column('Place'),
          column('In service'),
          column('Certificate'),
          column('Calibrated'),
          column('Due'),
          column('In service during this work'),
        ],
        rows: equipment.map((item) => row(item, period)),
        notes: [],
      },
      ...laterText(equipment, period),
      ...listOf(olderThanCertificate(equipment, period)),
      ...listOf(
        overdue(equipment, period).map(
          (item) =>
            `${item.id} was used until ${lastUse(item, period)}, its calibration was due on ${item.dueOn}.`,
        ),
      ),
    ],
  });
}
