import { requireFinite, requireInteger } from '../../errors.js';
import { equivalenceSampleSize } from '../../statistics/comparison/equivalence-power.js';
import { varianceRatio } from '../../statistics/comparison/variance-ratio.js';
import { welchTTest } from '../../statistics/comparison/welch-t-test.js';
import { mean } from '../../statistics/descriptive/mean.js';
import { standardDeviation } from '../../statistics/descriptive/standard-deviation.js';
import { limitsFrom, limitsOfEstimate, scaleLimits } from '../confidence-limits.js';
import type { ConfidenceLimits, Criterion, Finding, RowReference } from '../finding.js';
import { type FindingOptions, makeFinding } from '../make-finding.js';
import { noScatter } from '../no-scatter.js';
import { rowsOf } from '../result-row.js';
import { scaleOf } from '../scale.js';
import { edges } from '../verdict.js';

/** Control results on each side of a change that a verdict needs at least. */
export const leastControlResults = 8;

/** One control result; `key` names its row in the history. */
export interface ControlRow {
  readonly key: string;
  readonly value: number;
}

export interface ControlComparisonOptions extends Omit<FindingOptions, 'criterion'> {
  readonly shiftCriterion: Criterion | null;
  readonly precisionCriterion: Criterion | null;
  /** Fewer results on either side than this show nothing; `leastControlResults` where not given. */
  readonly leastResults?: number;
}

/** Control results on one side of a change, in the unit of the results. */
export interface ControlSide {
  readonly n: number;
  readonly mean: number;
  readonly standardDeviation: number;
}

/** Comparison of control results before and after a change, with everything its table and figure need. */
export interface ControlComparison {
  readonly shift: Finding;
  readonly precision: Finding;
  readonly before: ControlSide;
  readonly after: ControlSide;
  readonly difference: number;
  readonly standardUncertainty: number;
  readonly degreesOfFreedom: number;
  /** s_after ÷ s_before with limits. */
  readonly ratio: number;
  readonly ratioLimits: ConfidenceLimits;
  /** Results on each side that give 90 % power to show no shift, if there is none; null without a criterion. */
  readonly resultsNeeded: number | null;
}

/**
 * Whether a change left the results where they were: equivalence of the means by two one-sided tests (Welch), and the
 * ratio of the standard deviations by its F limits. A test of significance would reward few, noisy results; this does not.
 *
 * @throws InputError fewer than 2 results on a side, no spread before, a value that is not finite
 * @see Schuirmann 1987, J. Pharmacokin. Biopharm. 15, 657; Welch 1947, Biometrika 34, 28; ISO 7870-2 (control charts)
 */
export function controlComparison(
  before: readonly ControlRow[],
  after: readonly ControlRow[],
  options: ControlComparisonOptions,
): ControlComparison {
  const [first, second] = [sideOf(before, 'control results before'), sideOf(after, 'control results after')];
  requireFinite([second.standardDeviation / first.standardDeviation], 'ratio of the standard deviations');
  const test = welchTTest(after.map(resultOf), before.map(resultOf));
  const ratio = second.standardDeviation / first.standardDeviation;
  const figures = {
    before: first,
    after: second,
    difference: test.difference,
    standardUncertainty: test.standardUncertainty,
    degreesOfFreedom: test.degreesOfFreedom,
    ratio,
    ratioLimits: ratioLimits(ratio, first.n - 1, second.n - 1),
  };
  const rows = [rowsOf('history', [...before, ...after])];
  const tooFew = tooFewResults(first.n, second.n, options.leastResults ?? leastControlResults);
  const needed = resultsNeeded(figures, options);
  return {
    shift: shiftOf(figures, options, rows, tooFew, needed),
    precision: precisionOf(figures, options, rows, tooFew),
    ...figures,
    resultsNeeded: needed,
  };
}

type Figures = Omit<ControlComparison, 'shift' | 'precision' | 'resultsNeeded'>;

function resultOf(row: ControlRow): number {
  return row.value;
}

function sideOf(rows: readonly ControlRow[], name: string): ControlSide {
  const values = rows.map(resultOf);
  requireFinite(values, name, 2);
  return { n: values.length, mean: mean(values), standardDeviation: standardDeviation(values) };
}

function ratioLimits(ratio: number, nuBefore: number, nuAfter: number): ConfidenceLimits {
  const interval = (p: number) => varianceRatio(ratio ** 2, nuAfter, nuBefore, 1 - 2 * p).interval;
  return limitsFrom(
    (p) => Math.sqrt(interval(p).low),
    (p) => Math.sqrt(interval(p).high),
  );
}

function tooFewResults(before: number, after: number, least: number): string | null {
  requireInteger(least, 'least number of results', 2);
  if (Math.min(before, after) >= least) return null;
  return `Found ${before} control results before and ${after} after the change; at least ${least} on each side are needed.`;
}

function flatAfter({ after }: Figures): string | null {
  if (after.standardDeviation > 0) return null;
  return noScatter('The control results after the change', 'they show neither a shift nor a precision');
}

function resultsNeeded({ before, after }: Figures, options: ControlComparisonOptions): number | null {
  const pooled = Math.sqrt((before.standardDeviation ** 2 + after.standardDeviation ** 2) / 2);
  return controlResultsNeeded(before.mean, pooled, options);
}

/**
 * Control results on each side that show an unchanged mean with 90 % power, if it is unchanged.
 *
 * @param centre mean before the change, and `standardDeviation` of single control results, in the unit of the results
 * @returns null without a criterion on both sides of no shift
 * @throws InputError a standard deviation that is not above 0
 */
export function controlResultsNeeded(
  centre: number,
  standardDeviation: number,
  { shiftCriterion, unit }: Pick<ControlComparisonOptions, 'shiftCriterion' | 'unit'>,
): number | null {
  if (shiftCriterion === null || shiftCriterion.kind !== 'within') return null;
  const scale = scaleOf(shiftCriterion, unit, centre);
  const { low, high } = edges(shiftCriterion);
  if (!(low < 0 && high > 0)) return null;
  return equivalenceSampleSize(0.9, {
    kind: 'two-sample',
    difference: 0,
    low,
    high,
    standardDeviation: standardDeviation * scale.factor,
  }).n;
}

function shiftOf(
  figures: Figures,
  options: ControlComparisonOptions,
  rows: readonly RowReference[],
  tooFew: string | null,
  needed: number | null,
): Finding {
  const scale = scaleOf(options.shiftCriterion, options.unit, figures.before.mean);
  const { difference, standardUncertainty, degreesOfFreedom } = figures;
  const advice =
    needed === null
      ? ''
      : ` With the spread found, about ${needed} results on each side show an unchanged mean with 90 % power.`;
  return makeFinding(
    'shift after change',
    { ...options, criterion: options.shiftCriterion },
    {
      quantity: `${scale.relative ? 'relative ' : ''}shift of the mean of control results`,
      unit: scale.unit,
      estimate: difference * scale.factor,
      limits: scaleLimits(limitsOfEstimate(difference, standardUncertainty, degreesOfFreedom), scale.factor),
      degreesOfFreedom,
      n: figures.before.n + figures.after.n,
      clause: 'Schuirmann 1987, J. Pharmacokin. Biopharm. 15, 657; ISO/IEC 17025:2017, 7.2.2.2',
      method: 'two one-sided tests of the difference of means, Welch',
      rows,
      notShownBecause: tooFew === null ? flatAfter(figures) : `${tooFew}${advice}`,
      remedy: advice.trim(),
    },
  );
}

function precisionOf(
  figures: Figures,
  options: ControlComparisonOptions,
  rows: readonly RowReference[],
  tooFew: string | null,
): Finding {
  const scale = scaleOf(options.precisionCriterion, 'ratio', 1, '1');
  return makeFinding(
    'precision after change',
    { ...options, criterion: options.precisionCriterion },
    {
      quantity: 'standard deviation of control results after the change ÷ before',
      unit: scale.unit,
      estimate: figures.ratio * scale.factor,
      limits: scaleLimits(figures.ratioLimits, scale.factor),
      degreesOfFreedom: figures.after.n - 1,
      n: figures.before.n + figures.after.n,
      clause: 'ISO 2854:1976 (ratio of two variances; clause not cited); ISO/IEC 17025:2017, 7.2.2.2',
      method: 'ratio of two variances, limits by F',
      rows,
      notShownBecause: tooFew ?? flatAfter(figures),
      remedy: 'More control results after the change narrow the limits.',
    },
  );
}
