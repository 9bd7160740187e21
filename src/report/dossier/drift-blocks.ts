import { type AnalyteDrift, driftStudy, type RunDrift } from '../../studies/matrix/drift-study.js';
import type { MatrixValidation } from '../../studies/matrix/validate-matrix.js';
import { column, countCell, number, numberOr, text } from '../cells.js';
import type { Block, Figure, Table } from '../document.js';
import { trendOverSequence } from '../figures/trend-over-sequence.js';

/** Drift over the runs before its correction: a table of all analytes, a figure of the one that drifts most. */
export function driftBlocks({ study }: MatrixValidation): Block[] {
  const drifts = driftStudy(study);
  if (drifts.length === 0) return [];
  const most = drifts.reduce((a, b) => (farthest(b) > farthest(a) ? b : a));
  return [driftFigure(most), driftTable(drifts)];
}

const largest = (runs: readonly RunDrift[]): RunDrift =>
  runs.reduce((a, b) => (Math.abs(b.change) > Math.abs(a.change) ? b : a));

const farthest = ({ runs }: AnalyteDrift): number => Math.abs(largest(runs).change);

function driftFigure({ analyte, runs }: AnalyteDrift): Figure {
  return trendOverSequence({
    id: `check-solution/drift/${analyte}`,
    caption: `${analyte}, the analyte that drifts most: check solution over the sequence of each run, before correction`,
    axisTitle: '% of the first reading of the run',
    points: runs.flatMap(({ run, points }) =>
      points.map(({ position, relative }) => ({ run, position, value: 100 * relative })),
    ),
    lines: runs.map(({ run, points }) => ({
      run,
      from: [points[0]!.position, 100],
      to: [points.at(-1)!.position, 100 * points.at(-1)!.relative],
    })),
    centre: 100,
  });
}

function driftTable(drifts: readonly AnalyteDrift[]): Table {
  return {
    kind: 'table',
    id: 'check-solution/drift',
    caption:
      'Drift over a run: change of the check solution from its first to its last place, before correction',
    columns: [
      column('Analyte'),
      column('Runs'),
      column('Mean change', '%'),
      column('95 % interval, low', '%'),
      column('95 % interval, high', '%'),
      column('Largest change', '%'),
      column('In run'),
    ],
    rows: drifts.map(({ analyte, runs, meanChange, limits }) => [
      text(analyte),
      countCell(runs.length),
      number(100 * meanChange, 2),
      numberOr(limits === null ? null : 100 * limits.low, 2, 'one run'),
      numberOr(limits === null ? null : 100 * limits.high, 2, 'one run'),
      number(100 * largest(runs).change, 2),
      text(largest(runs).run),
    ]),
    notes: [
      'Results are corrected for this drift between neighbouring check solutions (ISO/IEC 17025:2017, 7.7.1); what the correction leaves is the sample trend.',
    ],
  };
}
