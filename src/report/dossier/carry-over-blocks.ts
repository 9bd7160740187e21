import { solidPerSolutionUnit } from '../../studies/matrix/calibration-study.js';
import type { MatrixValidation } from '../../studies/matrix/validate-matrix.js';
import { column, number, numberOr, text } from '../cells.js';
import type { Block, Table } from '../document.js';

/** What the zero solutions showed: as content of a sample against the limit of quantification, and run by run. */
export function carryOverBlocks(validation: MatrixValidation): Block[] {
  const { carryOvers, study } = validation;
  if (carryOvers.length === 0) return [];
  const unit = study.index.records.plan.calibration.basis;
  return [
    ...inSolid(validation),
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

/** The mean excess as if the zero solution had been that of a sample, for analytes that have results. */
function inSolid({ carryOvers, limits, study }: MatrixValidation): Table[] {
  const withResults = carryOvers.filter(({ finding }) =>
    study.results.some((result) => result.analyte === finding.analyte),
  );
  if (withResults.length === 0) return [];
  const table: Table = {
    kind: 'table',
    id: 'carry-over/in-solid',
    caption: 'Excess of the zero solution as content of a sample, beside the limit of quantification',
    columns: [
      column('Analyte'),
      column('After'),
      column('Unit'),
      column('Mean excess'),
      column('95 % interval, low'),
      column('95 % interval, high'),
      column('Limit of quantification'),
      column('High end of the interval, share of that limit', '%'),
    ],
    rows: withResults.map(({ finding, excess, limits: interval }) => {
      const { analyte, level } = finding;
      const perUnit = solidPerSolutionUnit(study, analyte);
      const high = interval === null ? null : interval.high * perUnit;
      const quantification = limits.find((l) => l.analyte === analyte)?.quantification?.value ?? null;
      const share = high === null || quantification === null ? null : (100 * high) / quantification;
      return [
        text(analyte),
        text(level),
        text(study.index.scopes.get(analyte)!.unit),
        number(excess * perUnit, 2),
        numberOr(interval === null ? null : interval.low * perUnit, 2, 'one run only'),
        numberOr(high, 2, 'one run only'),
        numberOr(quantification, 2, 'none'),
        numberOr(share, 2, 'none'),
      ];
    }),
    notes: [
      'The excess holds directly after the solution named; it is read as that of a sample at nominal masses and the mean further dilution, in the form reported. After a solution of less content it is less in proportion.',
    ],
  };
  return [table];
}
