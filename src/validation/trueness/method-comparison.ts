import { InputError, requireFinite, requirePositive } from '../../errors.js';
import { mean } from '../../statistics/descriptive/mean.js';
import { standardDeviation } from '../../statistics/descriptive/standard-deviation.js';
import { type DemingFit, deming } from '../../statistics/regression/deming.js';
import { type PassingBablokFit, passingBablok } from '../../statistics/regression/passing-bablok.js';
import { limitsOfEstimate } from '../confidence-limits.js';
import type { Finding } from '../finding.js';
import { type FindingOptions, makeFinding } from '../make-finding.js';
import { rowsOf } from '../result-row.js';
import { unitsForMean } from '../results-needed.js';
import { type Scale, scaleOf } from '../scale.js';

/** One sample measured by the reference method and by the method under validation. */
export interface ComparisonRow {
  readonly key: string;
  readonly reference: number;
  readonly candidate: number;
}

export interface MethodComparisonOptions extends FindingOptions {
  readonly referenceMethod: string;
  /** Error variance of the candidate ÷ that of the reference method; 1 where not given. */
  readonly varianceRatio?: number;
}

/** Comparison of two methods, with everything its table and figure need. */
export interface MethodComparison {
  readonly finding: Finding;
  /** Differences candidate − reference: relative to the reference (0.01 is 1 %) or in the unit of the results. */
  readonly differences: readonly number[];
  readonly relative: boolean;
  readonly meanDifference: number;
  readonly standardDeviation: number;
  /** Mean ± 1.96·s: within these a single difference is expected to lie. */
  readonly limitsOfAgreement: { readonly low: number; readonly high: number };
  /** Lines that tell a constant from a proportional difference: shown, not decisive. */
  readonly deming: ComparisonLine<DemingFit>;
  readonly passingBablok: ComparisonLine<PassingBablokFit>;
}

/** A line through the samples, or why there is none: it decides nothing, so that its lack stops nothing. */
export type ComparisonLine<Fit> =
  | { readonly fit: Fit; readonly missing: null }
  | { readonly fit: null; readonly missing: string };

/** Fewer samples than this show no agreement of methods. */
const leastSamples = 6;

/** Fewer samples than this support no line. */
const leastSamplesOfLine = 10;

/**
 * Agreement of the method with a reference method on the same samples: mean difference by two one-sided tests. A correlation
 * coefficient or a paired test of significance shows no agreement; the lines show where over the range methods part.
 * Without a criterion differences are relative where every reference result is above 0, else in the unit of the results.
 *
 * @throws InputError fewer than 2 samples, a reference result not above 0 under a relative criterion, a criterion in a unit
 * that does not fit
 * @see Bland and Altman 1986, Lancet 327, 307; Schuirmann 1987; Linnet 1993, Clin. Chem. 39, 424; Passing and Bablok 1983
 */
export function methodComparison(
  rows: readonly ComparisonRow[],
  options: MethodComparisonOptions,
): MethodComparison {
  const [x, y] = [rows.map((row) => row.reference), rows.map((row) => row.candidate)];
  requireFinite(x, 'results of the reference method', 2);
  requireFinite(y, 'results of the candidate method', 2);
  // Differences are relative to the reference of their own row, so the scale refers to 1.
  const usual = x.every((value) => value > 0) ? '%' : options.unit;
  const scale = scaleOf(options.criterion, options.unit, 1, usual);
  const { relative } = scale;
  const differences = rows.map((row) => {
    if (relative) requirePositive(row.reference, `reference result of ${row.key}`);
    return relative ? row.candidate / row.reference - 1 : row.candidate - row.reference;
  });
  const meanDifference = mean(differences);
  const s = standardDeviation(differences);
  return {
    finding: findingOf(rows, options, scale, meanDifference, s),
    differences,
    relative,
    meanDifference,
    standardDeviation: s,
    limitsOfAgreement: { low: meanDifference - 1.96 * s, high: meanDifference + 1.96 * s },
    deming: lineOf(rows.length, () => deming(x, y, options.varianceRatio ?? 1)),
    passingBablok: lineOf(rows.length, () => passingBablok(x, y)),
  };
}

function lineOf<Fit>(n: number, draw: () => Fit): ComparisonLine<Fit> {
  if (n < leastSamplesOfLine) return { fit: null, missing: `fewer than ${leastSamplesOfLine} samples` };
  try {
    return { fit: draw(), missing: null };
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return { fit: null, missing: error.message };
  }
}

function findingOf(
  rows: readonly ComparisonRow[],
  options: MethodComparisonOptions,
  { unit, factor, relative }: Scale,
  meanDifference: number,
  s: number,
): Finding {
  const n = rows.length;
  const estimate = meanDifference * factor;
  return makeFinding('method comparison', options, {
    quantity: `mean ${relative ? 'relative ' : ''}difference from ${options.referenceMethod}`,
    unit,
    estimate,
    limits: limitsOfEstimate(estimate, (s * factor) / Math.sqrt(n), n - 1),
    degreesOfFreedom: n - 1,
    n,
    clause: 'Schuirmann 1987, J. Pharmacokin. Biopharm. 15, 657; ISO/IEC 17025:2017, 7.2.2.1 (note)',
    method: 'differences of the same samples, two one-sided tests of their mean',
    rows: [rowsOf('comparison', rows)],
    notShownBecause:
      n < leastSamples ? `Found ${n} samples; at least ${leastSamples} over the range are needed.` : null,
    remedy: () => unitsForMean(estimate, s * factor, 0, n, options.criterion, 'samples'),
  });
}
