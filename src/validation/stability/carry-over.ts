import { requireFinite, requirePositive } from '../../errors.js';
import { mean } from '../../statistics/descriptive/mean.js';
import { standardDeviation } from '../../statistics/descriptive/standard-deviation.js';
import { limitsOfEstimate, scaleLimits } from '../confidence-limits.js';
import type { ConfidenceLimits, Finding } from '../finding.js';
import { type FindingOptions, makeFinding } from '../make-finding.js';
import { rowsOf } from '../result-row.js';
import { unitsForMean } from '../results-needed.js';
import { scaleOf } from '../scale.js';

/** A zero solution read directly after a rich one, contents in the solution. */
export interface CarryOverRow {
  readonly key: string;
  readonly run: string;
  /** Solution read before. */
  readonly after: string;
  /** Content of that solution. */
  readonly richContent: number;
  /** Content found in the zero solution. */
  readonly found: number;
  /** Content found in the zero standard of the run, which no rich solution came before. */
  readonly zero: number;
}

/** Carry-over of one line in the spectrometer, with everything its table needs; contents in the unit of the solution. */
export interface CarryOver {
  readonly finding: Finding;
  readonly rows: readonly CarryOverRow[];
  readonly excess: number;
  readonly meanRichContent: number;
  /** Of the mean excess over the runs; null for one run. */
  readonly limits: ConfidenceLimits | null;
}

/**
 * What the sample introduction hands on from one solution to the next: content found in a zero solution read directly after
 * a rich one less that found in the zero standard of the same run, mean over the runs with limits by t. The runs are the
 * independent units.
 *
 * @param rows at least one
 * @param options unit of the contents in the solution
 * @throws InputError no row, a content that is not finite, a rich content not above 0
 * @see common practice, no source; limits: JCGM 100:2008, G.3
 */
export function carryOver(rows: readonly CarryOverRow[], options: FindingOptions): CarryOver {
  requireFinite(
    rows.flatMap(({ found, zero }) => [found, zero]),
    'contents of zero solutions',
    2,
  );
  for (const row of rows) requirePositive(row.richContent, `content of ${row.after} in run ${row.run}`);
  const names = [...new Set(rows.map(({ run }) => run))];
  const ofRuns = names.map((run) =>
    mean(rows.filter((row) => row.run === run).map(({ found, zero }) => found - zero)),
  );
  const excess = mean(ofRuns);
  const n = ofRuns.length;
  const spread = n > 1 ? standardDeviation(ofRuns) : 0;
  const limits = n > 1 ? limitsOfEstimate(excess, spread / Math.sqrt(n), n - 1) : null;
  const meanRichContent = mean(rows.map(({ richContent }) => richContent));
  const scale = scaleOf(options.criterion, options.unit, meanRichContent);
  const finding = makeFinding('carry-over', options, {
    quantity: scale.relative
      ? 'excess of a zero solution after a rich solution, relative to the rich one'
      : 'excess of a zero solution after a rich solution',
    unit: scale.unit,
    estimate: excess * scale.factor,
    limits: limits === null ? null : scaleLimits(limits, scale.factor),
    degreesOfFreedom: n > 1 ? n - 1 : null,
    n,
    clause: 'common practice, no source; limits: JCGM 100:2008, G.3',
    method: 'mean over the runs of the differences from the zero standard, limits by t',
    rows: [rowsOf('readings', rows)],
    notShownBecause: n > 1 ? null : 'It was read in one run only; at least 2 runs are needed.',
    remedy: () => unitsForMean(excess * scale.factor, spread * scale.factor, 0, n, options.criterion, 'runs'),
  });
  return { finding, rows, excess, meanRichContent, limits };
}
