import { InputError, requireFinite, requireNonNegative, requirePositive } from '../../errors.js';
import { mean } from '../../statistics/descriptive/mean.js';
import { standardDeviation } from '../../statistics/descriptive/standard-deviation.js';
import { limitsOfEstimate, scaleLimits } from '../confidence-limits.js';
import type { ConfidenceLimits, Finding } from '../finding.js';
import { type FindingOptions, makeFinding } from '../make-finding.js';
import { rowsOf, valuesBy } from '../result-row.js';
import { scaleOf } from '../scale.js';

/** Content of the analyte that a solution of the interferent alone appears to hold, in one run. */
export interface InterferenceCheckRow {
  readonly key: string;
  readonly run: string;
  /** Apparent mass fraction of the analyte in the solution, mg/kg; corrected for interference where the method corrects. */
  readonly value: number;
}

export interface InterferenceCheckOptions extends FindingOptions {
  readonly interferent: string;
  /** Mass fraction of the interferent in the check solution and in the solution of a sample of this level, mg/kg. */
  readonly inCheckMgPerKg: number;
  readonly inSampleMgPerKg: number;
  /** Mass fraction in the solid, in `unit`, per mg/kg in the solution measured. */
  readonly solidPerUnit: number;
  /** Mass fraction of the analyte in the solid that a relative criterion refers to, in `unit`. */
  readonly reference: number;
  /** Whether the apparent contents have been corrected for this interferent. */
  readonly corrected: boolean;
}

/** Apparent content made by an interferent, with everything its table needs. */
export interface InterferenceCheck {
  readonly finding: Finding;
  readonly runMeans: readonly number[];
  /** Apparent mg/kg of the analyte per mg/kg of the interferent, with limits. */
  readonly coefficient: number;
  readonly coefficientLimits: ConfidenceLimits | null;
  /** Apparent mass fraction in the solid of a sample, in `unit`. */
  readonly apparentInSolid: number;
}

/**
 * Apparent content of the analyte in a solution that holds the interferent only, carried to a sample of the level.
 *
 * This is the direct test of an additive overlap: spikes and standard additions cannot see one.
 *
 * @throws InputError no reading, a mass fraction of the interferent not above 0
 * @see ISO 11885:2007 (spectral interference; clause not cited); Eurachem, Fitness for Purpose 2014, 6.1 (clause from memory)
 */
export function interferenceCheck(
  rows: readonly InterferenceCheckRow[],
  options: InterferenceCheckOptions,
): InterferenceCheck {
  if (rows.length === 0) throw new InputError('interference check: found no reading, expected at least 1');
  requireFinite(
    rows.map((row) => row.value),
    'apparent contents',
  );
  requirePositive(options.inCheckMgPerKg, 'interferent in the check solution');
  requireNonNegative(options.inSampleMgPerKg, 'interferent in the sample');
  requirePositive(options.solidPerUnit, 'mass fraction in the solid per unit in solution');
  const runMeans = [...valuesBy(rows, (row) => row.run).values()].map((values) => mean(values));
  const apparent = mean(runMeans);
  const n = runMeans.length;
  const limits = n > 1 ? limitsOfEstimate(apparent, standardDeviation(runMeans) / Math.sqrt(n), n - 1) : null;
  const toSample = (options.inSampleMgPerKg / options.inCheckMgPerKg) * options.solidPerUnit;
  const scale = scaleOf(options.criterion, options.unit, options.reference);
  const finding = makeFinding('interference check', options, {
    quantity: `${scale.relative ? 'relative ' : ''}apparent content made by ${options.interferent} at the level of the sample`,
    unit: scale.unit,
    estimate: apparent * toSample * scale.factor,
    limits: limits === null ? null : scaleLimits(limits, toSample * scale.factor),
    degreesOfFreedom: n > 1 ? n - 1 : null,
    n,
    clause: 'Eurachem, Fitness for Purpose 2014, 6.1 (clause from memory)',
    method: 'interference-check solution, mean over the runs, limits by t',
    rows: [rowsOf('readings', rows)],
    notes: [
      options.corrected
        ? `Results are corrected for ${options.interferent}: what the correction leaves is judged.`
        : `Results are not corrected for ${options.interferent}: the whole apparent content is judged.`,
    ],
    notShownBecause:
      n > 1 ? null : 'The interference-check solution was read in one run only; at least 2 runs are needed.',
    remedy: 'More runs with the interference-check solution narrow the limits.',
  });
  return {
    finding,
    runMeans,
    coefficient: apparent / options.inCheckMgPerKg,
    coefficientLimits: limits === null ? null : scaleLimits(limits, 1 / options.inCheckMgPerKg),
    apparentInSolid: apparent * toSample,
  };
}
