import { InputError, requireFinite } from '../../errors.js';
import type { Finding } from '../finding.js';
import { type FindingOptions, makeFinding } from '../make-finding.js';
import { rowsOf } from '../result-row.js';
import { scaleOf } from '../scale.js';
import { type AcceptanceReading, placeOf, worstReading } from './worst-reading.js';

/** Internal-standard signal of one solution ÷ that of the calibration solutions of its run; 1 is no matrix effect. */
export interface InternalStandardRow {
  readonly key: string;
  readonly run: string;
  readonly recovery: number;
}

/** Internal-standard recoveries of all solutions, in the unit of the finding. */
export interface InternalStandardRecovery {
  readonly finding: Finding;
  readonly recoveries: readonly AcceptanceReading[];
  readonly failing: readonly AcceptanceReading[];
}

/**
 * Recovery of the internal standard, solution by solution: each must lie within limits, else its results are not used.
 *
 * @throws InputError no solution, a recovery that is not finite
 * @see ISO 11885:2007 (internal standard); ISO/IEC 17025:2017, 7.7.1
 */
export function internalStandardRecovery(
  rows: readonly InternalStandardRow[],
  options: Omit<FindingOptions, 'unit'>,
): InternalStandardRecovery {
  if (rows.length === 0) throw new InputError('internal standard: found no solution, expected at least 1');
  requireFinite(
    rows.map((row) => row.recovery),
    'internal-standard recovery',
  );
  const scale = scaleOf(options.criterion, 'recovery', 1);
  const recoveries = rows.map(({ key, run, recovery }) => ({ key, run, value: recovery * scale.factor }));
  const { worst, failing } = worstReading(recoveries, options.criterion, scale.factor);
  const finding = makeFinding(
    'internal standard recovery',
    { ...options, unit: scale.unit },
    {
      quantity: 'recovery of the internal standard in the solution farthest off',
      unit: scale.unit,
      estimate: worst.value,
      limits: null,
      degreesOfFreedom: null,
      n: rows.length,
      clause: 'ISO/IEC 17025:2017, 7.7.1',
      method: 'each solution against the mean of its run’s calibration solutions',
      rows: [rowsOf('readings', rows)],
      notes: [
        `Farthest off: ${placeOf(worst)}.`,
        ...(failing.length > 0 ? [`Failing: ${failing.map(placeOf).join('; ')}.`] : []),
      ],
      exact: true,
    },
  );
  return { finding, recoveries, failing };
}
