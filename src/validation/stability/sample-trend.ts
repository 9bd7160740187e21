import { InputError, requireFinite, requirePositive } from '../../errors.js';
import { mean } from '../../statistics/descriptive/mean.js';
import { standardDeviation } from '../../statistics/descriptive/standard-deviation.js';
import { limitsOfEstimate, scaleLimits } from '../confidence-limits.js';
import type { ConfidenceLimits, Finding } from '../finding.js';
import { type FindingOptions, makeFinding } from '../make-finding.js';
import { rowsOf } from '../result-row.js';
import { unitsForMean } from '../results-needed.js';
import { scaleOf } from '../scale.js';

/** One result of a material that is read again and again within a run, after drift correction. */
export interface TrendRow {
  readonly key: string;
  readonly run: string;
  readonly position: number;
  readonly value: number;
}

/** Change along one run. */
export interface RunTrend {
  readonly run: string;
  readonly n: number;
  readonly span: number;
  /** Relative change from the first to the last position by the run's own line; 0.01 is 1 %. */
  readonly relativeChange: number;
}

/** Trend of results along the sequence, with everything its table and figure need. */
export interface SampleTrend {
  readonly finding: Finding;
  readonly runs: readonly RunTrend[];
  readonly meanRelativeChange: number;
  readonly limits: ConfidenceLimits | null;
}

/**
 * Whether results drift along the sequence of a run: change over the run by a line through the repeated material, mean over the
 * runs with its limits. The runs are the independent units.
 *
 * @param rows per run at least 3 positions of one material
 * @throws InputError a run with fewer than 3 positions or one position only, a run whose mean is not above 0
 * @see ISO/IEC 17025:2017, 7.7.1
 */
export function sampleTrend(rows: readonly TrendRow[], options: FindingOptions): SampleTrend {
  if (rows.length === 0) throw new InputError('sample trend: found no result, expected at least 3 of a run');
  const names = [...new Set(rows.map((row) => row.run))];
  const runs = names.map((run) =>
    trendOf(
      run,
      rows.filter((row) => row.run === run),
    ),
  );
  const changes = runs.map((run) => run.relativeChange);
  const n = changes.length;
  const meanRelativeChange = mean(changes);
  const spread = n > 1 ? standardDeviation(changes) : 0;
  const limits = n > 1 ? limitsOfEstimate(meanRelativeChange, spread / Math.sqrt(n), n - 1) : null;
  const scale = scaleOf(options.criterion, 'change', 1);
  const finding = makeFinding('sample trend', options, {
    quantity: 'mean relative change of a repeated material from the start to the end of a run',
    unit: scale.unit,
    estimate: meanRelativeChange * scale.factor,
    limits: limits === null ? null : scaleLimits(limits, scale.factor),
    degreesOfFreedom: n > 1 ? n - 1 : null,
    n,
    clause: 'ISO/IEC 17025:2017, 7.7.1',
    method: 'line through each run, mean of the changes over the runs, limits by t',
    rows: [rowsOf('readings', rows)],
    notShownBecause: n > 1 ? null : 'The material was repeated in one run only; at least 2 runs are needed.',
    remedy: () =>
      unitsForMean(meanRelativeChange * scale.factor, spread * scale.factor, 0, n, options.criterion, 'runs'),
  });
  return { finding, runs, meanRelativeChange, limits };
}

function trendOf(run: string, rows: readonly TrendRow[]): RunTrend {
  const values = rows.map((row) => row.value);
  requireFinite(values, `results of ${run}`, 3);
  const positions = rows.map((row) => row.position);
  const span = Math.max(...positions) - Math.min(...positions);
  requirePositive(span, `span of positions in ${run}`);
  const level = mean(values);
  requirePositive(level, `mean of ${run}`);
  const centre = mean(positions);
  const spread = positions.reduce((sum, position) => sum + (position - centre) ** 2, 0);
  const rise = positions.reduce((sum, position, i) => sum + (position - centre) * values[i]!, 0);
  return { run, n: rows.length, span, relativeChange: ((rise / spread) * span) / level };
}
