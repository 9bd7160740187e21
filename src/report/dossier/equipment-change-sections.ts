import type { EquipmentChange } from '../../studies/equipment-change.js';
import { column, empty, text } from '../cells.js';
import type { Block, Section } from '../document.js';
import { listOf, paragraph, sectionOf } from '../section-of.js';

/** Whether calibrations held on the days of the control results, and whose certificates are missing. */
export function blockedSection({
  blocked,
  certificateGaps,
  controls,
  replacement,
}: EquipmentChange): Section {
  return sectionOf({
    id: 'blocked',
    heading: 'Certificates',
    clause: 'ISO/IEC 17025:2017, 6.4.4',
    blocks: [
      ...(blocked.length === 0
        ? calibrationText(controls.length, replacement, certificateGaps)
        : [
            {
              kind: 'caution' as const,
              text: `Not to be used until this is settled: ${blocked.join('; ')}.`,
            },
          ]),
      ...(certificateGaps.length === 0
        ? []
        : [
            paragraph(
              'Some control results compared here are older than the calibrations in the register, which holds one certificate of each piece of equipment. Whether it was calibrated on those days is not shown by these records:',
            ),
          ]),
      ...listOf(certificateGaps.map(gapText)),
    ],
  });
}

/** What the records say of the replacement's calibration on the days of its control results. */
function calibrationText(
  compared: number,
  { id, dueOn }: EquipmentChange['replacement'],
  gaps: EquipmentChange['certificateGaps'],
): Block[] {
  // Without a day of use there is nothing that a certificate could have been valid on.
  if (compared === 0) {
    return [
      paragraph(
        `No control results with ${id} could be compared, so nothing is said here of its calibration on their days; it is due on ${dueOn}.`,
      ),
    ];
  }
  if (gaps.some((gap) => gap.equipment === id)) return [];
  return [paragraph('The calibration of the replacement was valid on every day of its control results.')];
}

function gapText(gap: EquipmentChange['certificateGaps'][number]): string {
  const { equipment, older, runs, firstDay, lastDay, certificate, calibratedOn } = gap;
  return `${equipment}: ${older} of its ${runs} control runs, ${firstDay} to ${lastDay}, are from before ${calibratedOn}, the day of its calibration ${certificate}; the certificate of ${equipment} of that time is not in the register.`;
}

/**
 * Every characteristic: whether it rests on the equipment, and whether control results show that it has not changed.
 *
 * @see ISO/IEC 17025:2017, 7.2.2.2
 */
export function affectedSection({ affected, replaced, controls }: EquipmentChange): Section {
  return sectionOf({
    id: 'affected',
    heading: 'What must be shown again',
    clause: 'ISO/IEC 17025:2017, 7.2.2.2',
    blocks: [
      {
        kind: 'table',
        id: 'affected/table',
        caption: 'Characteristics that rest on the equipment, and those that do not',
        columns: [
          column('Characteristic'),
          column('To be shown again'),
          column('Because'),
          column('Shown by control results for'),
        ],
        rows: affected.map(({ characteristic, again, reason, controls: shown }) => [
          text(characteristic),
          text(again ? 'yes' : 'no'),
          text(reason),
          shown === null
            ? empty(again ? 'not by them' : '')
            : shown.compared.length === 0
              ? empty('not studied')
              : text(shown.compared.join(', ')),
        ]),
        notes: controlNotes(affected.find((a) => a.controls !== null)?.controls ?? null, {
          isBalance: replaced.kind === 'balance',
          material: [...new Set(controls.flatMap((c) => c.after.map((r) => r.material)))].join(', '),
        }),
      },
    ],
  });
}

/** For which analytes control results say nothing, and what may be concluded for them. */
function controlNotes(
  shown: EquipmentChange['affected'][number]['controls'],
  { isBalance, material }: { readonly isBalance: boolean; readonly material: string },
): string[] {
  if (shown === null || shown.notCompared.length === 0) return [];
  if (shown.compared.length === 0) return ['Not studied: no control results before and after.'];
  const open = shown.notCompared.join(', ');
  const concluded = isBalance
    ? ` The mass of the portion is common to all analytes of a digestion, so that what the balance does to ${open} it does to ${shown.compared.join(', ')} too; that is a conclusion, not a finding.`
    : '';
  return [
    `${open}: not studied: no control results of these analytes before and after. Control results are of ${material}: they show whether results have shifted or scatter more, not whether they are true.${concluded}`,
  ];
}
