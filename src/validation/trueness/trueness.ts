import { requireNonNegative, requirePositive } from '../../errors.js';
import { studentTSurvival } from '../../statistics/distributions/student-t.js';
import { limitsOfEstimate, scaleLimits } from '../confidence-limits.js';
import type { Finding } from '../finding.js';
import { type FindingOptions, makeFinding } from '../make-finding.js';
import { type MeanOverDays, meanOverDays } from '../mean-over-days.js';
import { noScatter } from '../no-scatter.js';
import { leastDays } from '../precision/precision.js';
import { type ResultRow, rowsOf } from '../result-row.js';
import { unitsForMean } from '../results-needed.js';
import { scaleOf } from '../scale.js';
import { type CertificateCheck, type CertificateUse, checkCertificate } from './certificate.js';

/** A certified value in the unit of the results. */
export interface CertifiedValue {
  readonly material: string;
  readonly value: number;
  readonly standardUncertainty: number;
  /** Infinity where the certificate states none. */
  readonly degreesOfFreedom?: number;
  readonly use?: CertificateUse;
}

export interface TruenessOptions extends FindingOptions {
  readonly certified: CertifiedValue;
}

/** Trueness against one reference material, with everything its table and figure need (unit of the results). */
export interface Trueness {
  readonly finding: Finding;
  readonly overDays: MeanOverDays;
  readonly certified: CertifiedValue;
  /** Δ = mean − certified value. */
  readonly bias: number;
  readonly standardUncertainty: number;
  readonly degreesOfFreedom: number;
  /** Two-sided test of no bias: printed apart, it decides nothing. */
  readonly significance: { readonly t: number; readonly pValue: number; readonly significant: boolean };
  readonly certificate: CertificateCheck | null;
}

/**
 * Bias against a certified value: Δ = x̄ − w_CRM with u_Δ² = MS_day/(D·n) + u_CRM².
 *
 * Met if |Δ| + t_{0.95,ν}·u_Δ keeps the allowed bias, which is judged relative to the certified value where the criterion
 * is in %. ν by Welch–Satterthwaite. A bias may be significant and allowed, or not significant and too large to be shown.
 *
 * @throws InputError no result, a certified value not above 0 under a relative criterion
 * @see ISO 33403:2024 (use of reference materials); ISO 5725-4:2020
 */
export function trueness(rows: readonly ResultRow[], options: TruenessOptions): Trueness {
  const { certified } = options;
  requirePositive(certified.value, 'certified value');
  requireNonNegative(certified.standardUncertainty, 'standard uncertainty of the certified value');
  const overDays = meanOverDays(rows);
  const bias = overDays.mean - certified.value;
  const combined = combine(overDays, certified);
  const certificate = certified.use === undefined ? null : checkCertificate(certified.use);
  const finding = findingOf(rows, options, overDays, bias, combined, certificate);
  return {
    finding,
    overDays,
    certified,
    bias,
    ...combined,
    significance: significanceOf(bias, overDays, combined),
    certificate,
  };
}

function significanceOf(bias: number, overDays: MeanOverDays, combined: Combined): Trueness['significance'] {
  if (overDays.standardUncertainty === null || bias === 0) return { t: 0, pValue: 1, significant: false };
  if (combined.standardUncertainty === 0) return { t: Infinity, pValue: 0, significant: true };
  const t = Math.abs(bias) / combined.standardUncertainty;
  const pValue = 2 * studentTSurvival(t, combined.degreesOfFreedom);
  return { t, pValue, significant: pValue < 0.05 };
}

interface Combined {
  readonly standardUncertainty: number;
  readonly degreesOfFreedom: number;
}

function combine(overDays: MeanOverDays, certified: CertifiedValue): Combined {
  const observed = (overDays.standardUncertainty ?? 0) ** 2;
  const reference = certified.standardUncertainty ** 2;
  const parts =
    observed ** 2 / Math.max(1, overDays.degreesOfFreedom) +
    reference ** 2 / (certified.degreesOfFreedom ?? Infinity);
  return {
    standardUncertainty: Math.sqrt(observed + reference),
    degreesOfFreedom: parts > 0 ? (observed + reference) ** 2 / parts : Infinity,
  };
}

function findingOf(
  rows: readonly ResultRow[],
  options: TruenessOptions,
  overDays: MeanOverDays,
  bias: number,
  combined: Combined,
  certificate: CertificateCheck | null,
): Finding {
  const scale = scaleOf(options.criterion, options.unit, options.certified.value);
  const known = overDays.standardUncertainty !== null;
  const limits = limitsOfEstimate(bias, combined.standardUncertainty, combined.degreesOfFreedom);
  const days = overDays.days.length;
  const tooFew =
    days < leastDays
      ? `Found ${days} day(s); at least ${leastDays} days are needed before trueness counts as shown.`
      : overDays.standardUncertainty === 0
        ? noScatter('The means of the days', 'they show no trueness')
        : null;
  const faults = certificate?.faults ?? [];
  return makeFinding('trueness', options, {
    quantity: `${scale.relative ? 'relative ' : ''}bias against ${options.certified.material}`,
    unit: scale.unit,
    estimate: bias * scale.factor,
    limits: known ? scaleLimits(limits, scale.factor) : null,
    degreesOfFreedom: known ? combined.degreesOfFreedom : null,
    n: days,
    clause: 'ISO 33403:2024; ISO 5725-4:2020',
    method:
      'mean over days against the certified value; limits by t, degrees of freedom by Welch–Satterthwaite',
    rows: [rowsOf('digestions', rows), { table: 'references', keys: [options.certified.material] }],
    notes: [...faults, ...(certificate?.notes ?? [])],
    notShownBecause: faults.length > 0 ? `${faults.join(' ')} Use a material that fits.` : tooFew,
    remedy: () =>
      unitsForMean(
        bias * scale.factor,
        (overDays.standardUncertainty ?? 0) * Math.sqrt(days) * scale.factor,
        {
          standardUncertainty: options.certified.standardUncertainty * scale.factor,
          degreesOfFreedom: options.certified.degreesOfFreedom ?? Infinity,
        },
        days,
        options.criterion,
        'days',
      ),
  });
}
