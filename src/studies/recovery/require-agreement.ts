import { InputError } from '../../errors.js';
import { chiSquaredSurvival } from '../../statistics/distributions/chi-squared.js';
import { meanOverDays } from '../../validation/mean-over-days.js';
import type { RecoveryRow } from './recovery-experiment.js';

/** Below this p, reference materials are taken to disagree on a recovery. */
const disagreement = 0.01;

/**
 * A recovery corrects only if it is the same at all contents: the recoveries by several materials must agree within their
 * uncertainties.
 *
 * @throws InputError materials whose recoveries differ by more than their uncertainties explain (χ², p below 0.01)
 */
export function requireAgreement(analyte: string, rows: readonly RecoveryRow[]): void {
  const found = [...new Set(rows.map((row) => row.reference))].map((reference) => {
    const own = rows.filter((row) => row.reference === reference);
    const { mean, standardUncertainty } = meanOverDays(own);
    const u = Math.hypot(standardUncertainty ?? 0, mean * own[0]!.referenceRelative);
    return { reference, mean, u };
  });
  if (found.length < 2 || found.some(({ u }) => u === 0)) return;
  const weights = found.map(({ u }) => 1 / u ** 2);
  const sum = weights.reduce((a, b) => a + b, 0);
  const centre = found.reduce((a, { mean }, i) => a + weights[i]! * mean, 0) / sum;
  const chiSquared = found.reduce((a, { mean }, i) => a + weights[i]! * (mean - centre) ** 2, 0);
  const pValue = chiSquaredSurvival(chiSquared, found.length - 1);
  if (pValue >= disagreement) return;
  const each = found.map(
    ({ reference, mean, u }) => `${mean.toFixed(4)} (u = ${u.toFixed(4)}, ${reference})`,
  );
  throw new InputError(
    `recovery of ${analyte}: found ${each.join(' and ')}, expected one recovery at all contents (p = ${pValue.toPrecision(2)}); find the cause before results are corrected`,
  );
}
