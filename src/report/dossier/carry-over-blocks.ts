import type { MatrixValidation } from '../../studies/matrix/validate-matrix.js';
import { column, number, text } from '../cells.js';
import type { Block } from '../document.js';

/** What the zero solutions showed, run by run. */
export function carryOverBlocks({ carryOvers, study }: MatrixValidation): Block[] {
  if (carryOvers.length === 0) return [];
  const unit = study.index.records.plan.calibration.basis;
  return [
    {
      kind: 'table',
      id: 'carry-over/rows',
      caption: 'Zero solution directly after a rich solution, and the zero standard of the same run',
      columns: [
        column('Analyte'),
        column('Run'),
        column('After'),
        column('Content of the rich solution', unit),
        column('Found in the zero solution', unit),
        column('Found in the zero standard', unit),
      ],
      rows: carryOvers.flatMap(({ finding, rows }) =>
        rows.map((row) => [
          text(finding.analyte),
          text(row.run),
          text(row.after),
          number(row.richContent, 3),
          number(row.found, 2),
          number(row.zero, 2),
        ]),
      ),
      notes: [
        'Contents by the calibration of the run, drift between check solutions taken off. A negative content is scatter about zero.',
      ],
      groupedBy: 0,
    },
  ];
}
