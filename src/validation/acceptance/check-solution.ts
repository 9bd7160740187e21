import { InputError, requireFinite, requirePositive } from '../../errors.js';
import type { Finding } from '../finding.js';
import { type FindingOptions, makeFinding } from '../make-finding.js';
import { rowsOf } from '../result-row.js';
import { scaleOf } from '../scale.js';
import { type AcceptanceReading, placeOf, worstReading } from './worst-reading.js';

/** One reading of a check solution: mean of its integrations through the run's calibration function. */
export interface CheckSolutionRow {
  readonly key: string;
  readonly run: string;
  readonly position: number;
  readonly found: number;
  readonly nominal: number;
}

/** Check solutions of all runs; deviations in the unit of the finding. */
export interface CheckSolution {
  readonly finding: Finding;
  readonly deviations: readonly (AcceptanceReading & { readonly position: number })[];
  readonly failing: readonly AcceptanceReading[];
}

/**
 * Check solutions read at the start, between samples and at the end: each one must keep the allowed deviation from its
 * nominal content, for the samples between two of them rest on both. A rule on single readings: compared as they stand.
 *
 * @throws InputError no reading, a nominal content not above 0
 * @see ISO/IEC 17025:2017, 7.7.1
 */
export function checkSolution(rows: readonly CheckSolutionRow[], options: FindingOptions): CheckSolution {
  if (rows.length === 0) throw new InputError('check solutions: found none, expected at least 1');
  requireFinite(
    rows.map((row) => row.found),
    'check solutions',
  );
  const relative = options.criterion === null || options.criterion.unit !== options.unit;
  const deviations = rows.map((row) => {
    requirePositive(row.nominal, `nominal content of ${row.key}`);
    const scale = scaleOf(options.criterion, options.unit, row.nominal);
    const { key, run, position } = row;
    return { key, run, position, value: (row.found - row.nominal) * scale.factor };
  });
  const { worst, failing } = worstReading(deviations, options.criterion, 0);
  const finding = makeFinding('check solution', options, {
    quantity: `largest ${relative ? 'relative ' : ''}deviation of a check solution`,
    unit: options.criterion?.unit ?? '%',
    estimate: worst.value,
    limits: null,
    degreesOfFreedom: null,
    n: rows.length,
    clause: 'ISO/IEC 17025:2017, 7.7.1',
    method: 'each reading against its nominal content',
    rows: [rowsOf('readings', rows)],
    notes: [
      `Farthest from nominal: ${placeOf(worst)}.`,
      ...(failing.length > 0 ? [`Failing: ${failing.map(placeOf).join('; ')}.`] : []),
    ],
    exact: true,
  });
  return { finding, deviations, failing };
}
