import { oneWayAnalysis } from '../../statistics/analysis-of-variance/one-way.js';
import { mean } from '../../statistics/descriptive/mean.js';
import { standardDeviation } from '../../statistics/descriptive/standard-deviation.js';
import { limitsFrom, limitsOfStandardDeviation } from '../confidence-limits.js';
import type { ConfidenceLimits } from '../finding.js';
import { type DayComponents, dayComponents, termsOfResult } from '../precision/day-components.js';
import { limitsOfVarianceSum } from '../precision/limits-of-variance-sum.js';
import { valuesBy } from '../result-row.js';

/** Spread of the blanks with its limits, in the unit of the values. */
export interface BlankSpread {
  readonly standardDeviation: number;
  readonly degreesOfFreedom: number;
  readonly limits: ConfidenceLimits;
}

/** One usable independent procedure blank: flux and reagents through the whole procedure without a portion. */
export interface BlankRow {
  readonly key: string;
  readonly run: string;
  readonly value: number;
}

/** Blanks taken apart by run, in the unit of the values. A spread is null where there are too few blanks for it. */
export interface BlankSpreads {
  readonly runs: number;
  /** Mean over the runs, each run once, with its standard uncertainty. */
  readonly mean: number;
  readonly ofMean: { readonly standardUncertainty: number; readonly degreesOfFreedom: number } | null;
  /** Of one blank of any run, and of one blank within its run. */
  readonly total: BlankSpread | null;
  readonly withinRun: BlankSpread | null;
  /** Of a result at content 0, the mean of so many digestions of one run, less the blank over all runs. */
  readonly atZero: BlankSpread | null;
  /** Whether the digestions of a result are taken to share all of a blank's scatter, for runs hold too few blanks to tell. */
  readonly shared: boolean;
  /** p of the F test between runs; null where it cannot be made. */
  readonly pBetweenRuns: number | null;
}

export interface BlankSpreadsOptions {
  readonly digestionsPerResult: number;
  /** Variance of a line through the blanks at the nominal mass of flux, as a share of that of one blank. */
  readonly lineShare?: number;
}

/** Fewer degrees of freedom within runs do not tell the scatter of one run's blanks from that between runs. */
const leastWithin = 5;

/**
 * Spread of blanks with the runs as the independent units: blanks of one run share its calibration and its conditions.
 *
 * The spread over runs has the limits of Graybill and Wang, χ² limits where each run has one blank (exact) or hardly more. The mean over runs has the
 * scatter of the run means, runs − 1 degrees of freedom. A result of m digestions, all of one run, has the run’s part of the
 * blank’s variance whole and 1/m of the part within; where runs hold too few blanks to tell the two apart, all of it whole, with
 * χ² limits from the run means. Blanks of one run alone can only be taken as independent. Deviations from a line are widened for its second coefficient.
 *
 * @param rows at least one, values finite
 * @see Currie 1995, IUPAC Recommendations, Pure Appl. Chem. 67, 1699 (blank); JCGM 100:2008 (GUM), H.5; Graybill and Wang 1980,
 *   J. Am. Stat. Assoc. 75, 869
 * @example
 * blankSpreads([['1', 9], ['1', 11], ['2', 14], ['2', 16]].map(([run, value]) => ({ key: '', run: `${run}`, value: Number(value) })), { digestionsPerResult: 1 }).ofMean?.standardUncertainty // => 2.5
 */
export function blankSpreads(rows: readonly BlankRow[], options: BlankSpreadsOptions): BlankSpreads {
  const groups = [...valuesBy(rows, (row) => row.run).values()];
  const runs = groups.length;
  const [n, coefficients] = [rows.length, options.lineShare === undefined ? 1 : 2];
  if (runs <= coefficients) return independent(rows, runs, coefficients, options);
  const degreesOfFreedom = runs - coefficients;
  const centre = mean(rows.map((row) => row.value));
  const widen = Math.sqrt((runs - 1) / degreesOfFreedom);
  const residuals = rows.map((row) => ({ ...row, value: (row.value - centre) * widen }));
  const means = [...valuesBy(residuals, (row) => row.run).values()].map((values) => mean(values));
  // Variance of the blank subtracted as a share of that of one run mean: 1/runs, more for a line away from its centre.
  const share = ((options.lineShare ?? 1 / n) * n) / runs;
  const base = {
    runs,
    mean: centre + mean(means) / widen,
    ofMean: { standardUncertainty: standardDeviation(means) * Math.sqrt(share), degreesOfFreedom },
  };
  if (n === runs) {
    const one = standardDeviation(means);
    return {
      ...base,
      total: spreadOf(one, degreesOfFreedom),
      withinRun: null,
      atZero: spreadOf(one * Math.sqrt(1 + share), degreesOfFreedom),
      shared: options.digestionsPerResult > 1,
      pBetweenRuns: null,
    };
  }
  const components = {
    ...dayComponents(residuals.map(({ key, run, value }) => ({ key, day: run, value }))),
    degreesOfFreedomBetween: degreesOfFreedom,
  };
  const isTold = components.degreesOfFreedomWithin >= leastWithin;
  const digestions = isTold ? options.digestionsPerResult : 1;
  return {
    ...base,
    total: isTold ? overRuns(components, 1, 0) : undivided(components, 0),
    withinRun: spreadOf(Math.sqrt(components.meanSquareWithin), components.degreesOfFreedomWithin),
    atZero: isTold ? overRuns(components, digestions, share) : undivided(components, share),
    shared: !isTold && options.digestionsPerResult > 1,
    pBetweenRuns: oneWayAnalysis(groups).pValue,
  };
}

/** Blanks of one run, or of too few runs for a line. */
function independent(
  rows: readonly BlankRow[],
  runs: number,
  coefficients: number,
  { digestionsPerResult, lineShare }: BlankSpreadsOptions,
): BlankSpreads {
  const values = rows.map((row) => row.value);
  const n = values.length;
  const degreesOfFreedom = n - coefficients;
  const isEnough = degreesOfFreedom >= 1;
  const s = isEnough ? standardDeviation(values) * Math.sqrt((n - 1) / degreesOfFreedom) : 0;
  const share = lineShare ?? 1 / n;
  const total = isEnough ? spreadOf(s, degreesOfFreedom) : null;
  return {
    runs,
    mean: mean(values),
    ofMean: isEnough ? { standardUncertainty: s * Math.sqrt(share), degreesOfFreedom } : null,
    total,
    withinRun: runs === 1 ? total : null,
    atZero: isEnough ? spreadOf(s * Math.sqrt(1 / digestionsPerResult + share), degreesOfFreedom) : null,
    shared: false,
    pBetweenRuns: null,
  };
}

/** Of the mean of digestions of one run, less a mean blank with so much of the variance of one run mean; 0: nothing is subtracted. */
function overRuns(components: DayComponents, digestions: number, share: number): BlankSpread {
  const [ofRun, within] = termsOfResult(components, digestions);
  const first = { ...ofRun, coefficient: ofRun.coefficient * (1 + share) };
  const value = valueAtZero(components, digestions, share);
  const limits = limitsFrom(
    (p) => Math.min(value, Math.sqrt(limitsOfVarianceSum(first, within, p).lower)),
    (p) => Math.max(value, Math.sqrt(limitsOfVarianceSum(first, within, p).upper)),
  );
  const parts = [first, within].map((term) => term.coefficient * term.meanSquare) as [number, number];
  const spread = parts[0] ** 2 / first.degreesOfFreedom + parts[1] ** 2 / within.degreesOfFreedom;
  const degreesOfFreedom =
    spread > 0 ? Math.max(1, (parts[0] + parts[1]) ** 2 / spread) : first.degreesOfFreedom;
  return { standardDeviation: value, degreesOfFreedom, limits };
}

/**
 * The same for one digestion, its limits from the run means alone: one blank varies by no less than a run mean, and by no more than
 * n times its variance, with n the harmonic number of blanks a run.
 */
function undivided(components: DayComponents, share: number): BlankSpread {
  const { digestionsPerDay, meanSquareBetween, degreesOfFreedomBetween } = components;
  const value = valueAtZero(components, 1, share);
  const ofMean = limitsOfStandardDeviation(
    Math.sqrt(meanSquareBetween / digestionsPerDay),
    degreesOfFreedomBetween,
  );
  const least = (limit: number) => Math.min(value, limit * Math.sqrt(1 + share));
  const most = (limit: number) => Math.max(value, limit * Math.sqrt(digestionsPerDay + share));
  return {
    standardDeviation: value,
    degreesOfFreedom: degreesOfFreedomBetween,
    limits: {
      lowerOneSided: least(ofMean.lowerOneSided),
      upperOneSided: most(ofMean.upperOneSided),
      low: least(ofMean.low),
      high: most(ofMean.high),
    },
  };
}

function valueAtZero(components: DayComponents, digestions: number, share: number): number {
  const { dayVariance, digestionVariance, meanSquareBetween, digestionsPerDay } = components;
  return Math.sqrt(
    dayVariance + digestionVariance / digestions + (share * meanSquareBetween) / digestionsPerDay,
  );
}

export function spreadOf(value: number, degreesOfFreedom: number): BlankSpread {
  return {
    standardDeviation: value,
    degreesOfFreedom,
    limits: limitsOfStandardDeviation(value, degreesOfFreedom),
  };
}
