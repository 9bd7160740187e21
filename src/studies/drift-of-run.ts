import { type DriftFactor, driftFactor } from '../chain/drift.js';
import { InputError } from '../errors.js';

/** Check solutions of one run on one line, in order of place. */
export interface ChecksOfRun {
  readonly run: string;
  readonly analyte: string;
  readonly lineNm: number;
  readonly positions: readonly number[];
  /** Mean signal ratio of each. */
  readonly ratios: readonly number[];
}

/**
 * Drift factor at a place of a run: see `driftFactor`, which knows neither run nor line.
 *
 * @param standardUncertainty of one check's mean ratio
 * @throws InputError what `driftFactor` refuses, with run and line
 */
export function driftOfRun(
  { run, analyte, lineNm, positions, ratios }: ChecksOfRun,
  standardUncertainty: number,
  position: number,
): DriftFactor {
  try {
    return driftFactor(positions, ratios, standardUncertainty, position);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    throw new InputError(`run ${run}, ${analyte} at ${lineNm} nm: ${error.message}`, { cause: error });
  }
}
