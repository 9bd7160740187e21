import type { StudyRecords } from '../../records/study-records.js';
import { median } from '../../statistics/descriptive/median.js';
import {
  type FusionsOfCharge,
  fusionLevel,
  fusionLosses,
  leastFusions,
} from '../../studies/fusion-losses.js';
import { column, countCell, empty, number, text } from '../cells.js';
import type { Section } from '../document.js';
import { sectionOf } from '../section-of.js';

/** Mass balance of the fusions whose melt was weighed; no section where none was. */
export function fusionSection(records: Pick<StudyRecords, 'digestions' | 'equipment'>): Section[] {
  const [first, ...others] = fusionLosses(records);
  if (first === undefined) return [];
  return [
    sectionOf({
      id: 'fusion',
      heading: 'Mass balance of the fusions',
      clause: 'ISO/IEC 17025:2017, 7.7.1',
      blocks: [
        {
          kind: 'table',
          id: 'fusion/table',
          caption: 'Loss of mass from crucible, portion and flux to crucible with melt',
          columns: [
            column('Fusions of'),
            column('n'),
            column('Portion and flux, median', 'g'),
            column('Loss, median', 'mg'),
            column('Loss, median', '%'),
            column('Smallest and largest loss', '%'),
            column('Outlying'),
          ],
          rows: [first, ...others].map(rowOf),
          notes: [
            `Balance readings in air; loss in % of portion and flux. What flux and sample lose on ignition cannot be told apart from spitting, so that no result is corrected by it. A sample fused at least ${leastFusions} times stands by itself. Outlying by the generalised ESD procedure (Rosner 1983) at the ${100 * fusionLevel} % level, up to a fifth of the fusions, and farther from the median than three standard uncertainties of a difference of two readings on the balance for portions.`,
          ],
        },
      ],
    }),
  ];
}

function rowOf({ charge, losses, medianPercent, outlying }: FusionsOfCharge) {
  const percents = losses.map((l) => l.lossPercent);
  const shown = (percent: number) => percent.toFixed(2).replace('-', '−');
  const named = (digestion: string) =>
    `${digestion} (${shown(losses.find((l) => l.digestion === digestion)!.lossPercent)} %)`;
  return [
    text(charge),
    countCell(losses.length),
    number(median(losses.map((l) => l.portionAndFluxG)), 4),
    number(1000 * median(losses.map((l) => l.lossG)), 3),
    number(medianPercent, 3),
    text(`${shown(Math.min(...percents))} to ${shown(Math.max(...percents))}`),
    outlying === null
      ? empty(`fewer than ${leastFusions}, not judged`)
      : text(outlying.length === 0 ? 'none' : outlying.map(named).join(', ')),
  ];
}
