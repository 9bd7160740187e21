import { expect } from 'vitest';
import { varianceInterval } from '../../../src/statistics/analysis-of-variance/variance-interval.js';
import { oneSampleTTest } from '../../../src/statistics/comparison/one-sample-t-test.js';
import type { TTest } from '../../../src/statistics/comparison/t-test.js';
import { algorithmA } from '../../../src/statistics/descriptive/algorithm-a.js';
import { autocorrelation } from '../../../src/statistics/descriptive/autocorrelation.js';
import { huberProposal2 } from '../../../src/statistics/descriptive/huber-proposal-2.js';
import { mean } from '../../../src/statistics/descriptive/mean.js';
import { median } from '../../../src/statistics/descriptive/median.js';
import { shape } from '../../../src/statistics/descriptive/moments.js';
import { qn } from '../../../src/statistics/descriptive/qn.js';
import {
  normalisedInterquartileRange,
  sampleQuantile,
} from '../../../src/statistics/descriptive/sample-quantile.js';
import { scaledMedianAbsoluteDeviation } from '../../../src/statistics/descriptive/scaled-median-absolute-deviation.js';
import { standardDeviation, variance } from '../../../src/statistics/descriptive/standard-deviation.js';
import { normalCdf, normalDensity } from '../../../src/statistics/distributions/normal.js';
import { andersonDarling } from '../../../src/statistics/screening/anderson-darling.js';
import { bartlettTest } from '../../../src/statistics/screening/bartlett.js';
import { cochranCritical, cochranTest } from '../../../src/statistics/screening/cochran.js';
import { dixonTest } from '../../../src/statistics/screening/dixon.js';
import { doubleGrubbsTest } from '../../../src/statistics/screening/double-grubbs.js';
import { grubbsCritical, grubbsOppositeTest, grubbsTest } from '../../../src/statistics/screening/grubbs.js';
import { leveneTest } from '../../../src/statistics/screening/levene.js';
import {
  mandelConsistency,
  mandelHCritical,
  mandelKCritical,
} from '../../../src/statistics/screening/mandel-consistency.js';
import { runsTest } from '../../../src/statistics/screening/runs-test.js';
import { shapiroWilk } from '../../../src/statistics/screening/shapiro-wilk.js';
import { trend } from '../../../src/statistics/screening/trend.js';
import { vonNeumannTest } from '../../../src/statistics/screening/von-neumann.js';
import { type Agreement, type Computed, expectBlock } from '../../support/expect-block.js';
import { blockAt, type Json, type JsonObject } from '../../support/reference-sets.js';

type Block = { readonly [key: string]: Computed };
type Values = readonly number[];
type Groups = readonly Values[];

/** Keys of the reference that no capability of the statistics layer gives; the coverage table names the reasons. */
export const outside = [
  'huber_M_fixed_MAD',
  'Sn',
  'iterations_to_1e15',
  'fligner_killeen',
  'welch_anova',
  'kruskal_wallis',
  'wilcoxon_p_normal_approx_corrected',
];

/** Agreement that the card of the open data states: closed forms 1e-10, Shapiro-Wilk 1e-6 in W and 1e-4 in p. */
function agreement(path: string): Agreement {
  if (/shapiro/.test(path)) return { relative: path.endsWith('/p') ? 1e-4 : 1e-6 };
  // A symmetric sample has a skewness of 0 but for rounding.
  return path.endsWith('skewness_g1') ? { relative: 1e-10, absolute: 1e-13 } : { relative: 1e-10 };
}

/** Every leaf of the block, but for the keys outside, must be computed and agree. */
export function expectSample(reference: Json | undefined, computed: Computed): void {
  if (reference === undefined) throw new Error('the reference has no such block');
  expectBlock(without(reference), computed, agreement);
}

function without(block: Json): Json {
  if (block === null || typeof block !== 'object') return block;
  if (Array.isArray(block)) return block.map(without);
  return Object.fromEntries(
    Object.entries(block)
      .filter(([key]) => !outside.includes(key))
      .map(([key, value]) => [key, without(value as Json)]),
  );
}

/** Description of one sample. */
export function description(values: Values): Block {
  const test = oneSampleTTest(values);
  const spread = varianceInterval(variance(values), values.length - 1);
  return {
    n: values.length,
    mean: mean(values),
    sd: standardDeviation(values),
    variance: variance(values),
    standard_error: test.standardUncertainty,
    rsd_percent: (100 * standardDeviation(values)) / mean(values),
    min: Math.min(...values),
    max: Math.max(...values),
    median: median(values),
    mad_raw: scaledMedianAbsoluteDeviation(values, 1),
    quartiles_type7: [sampleQuantile(values, 0.25), sampleQuantile(values, 0.75)],
    quartiles_type6: [sampleQuantile(values, 0.25, '(n + 1)p'), sampleQuantile(values, 0.75, '(n + 1)p')],
    mean_ci95_t: [test.interval.low, test.interval.high],
    sd_ci95_chisq: [Math.sqrt(spread.interval.low), Math.sqrt(spread.interval.high)],
  };
}

/** Tests of normality and shape. */
export function normality(values: Values): Block {
  const { skewness, excessKurtosis } = shape(values);
  const w = shapiroWilk(values);
  return {
    shapiro_wilk: { W: w.statistic, p: w.pValue },
    anderson_darling: anderson(values),
    skewness_g1: skewness,
    kurtosis_excess_g2: excessKurtosis,
  };
}

function anderson(values: Values): Block {
  const { statistic, modified, pValue } = andersonDarling(values);
  return { A2: statistic, A2_modified: modified, p: pValue };
}

/** Grubbs' and Dixon's statistics. */
export function grubbs(values: Values): Block {
  const [high, low, both] = (['high', 'low', 'both'] as const).map((side) => grubbsTest(values, side));
  const n = values.length;
  const critical = Object.fromEntries(
    ([1, 2] as const).flatMap((sides) =>
      [0.05, 0.01].map((alpha) => [
        `${sides === 1 ? 'one' : 'two'}_sided_${alpha}`,
        grubbsCritical(n, alpha, sides),
      ]),
    ),
  );
  const ofTwo = (side: 'high' | 'low') => (n < 4 ? 0 : doubleGrubbsTest(values, side).statistic);
  return {
    G_max: high!.statistic,
    G_min: low!.statistic,
    G: both!.statistic,
    suspect: values[both!.suspects[0]!]!,
    p_one_sided_max: high!.pValue,
    p_one_sided_min: low!.pValue,
    p_two_sided: both!.pValue,
    critical,
    two_largest_SS_ratio: ofTwo('high'),
    two_smallest_SS_ratio: ofTwo('low'),
    range_over_sd: n < 4 ? 0 : grubbsOppositeTest(values).statistic,
    dixon_r10_high: dixonTest(values, 'high', 0.05, 'r10').statistic,
    dixon_r10_low: dixonTest(values, 'low', 0.05, 'r10').statistic,
  };
}

/** Robust estimates. */
export function robust(values: Values): Block {
  const huber = afterThirtySteps(values);
  return {
    median: median(values),
    'MADe_1.483': scaledMedianAbsoluteDeviation(values, 1.483),
    'mad_R_1.4826': scaledMedianAbsoluteDeviation(values, 1.4826),
    'nIQR_0.7413_type7': normalisedInterquartileRange(values),
    algorithm_A: algorithmABlock(values),
    huber_proposal_2: { mu: huber.location, s: huber.scale },
  };
}

/** Robust estimates as `robust`, and Qn. */
export function expectRobust(reference: Json | undefined, values: Values): void {
  const block = blockAt(reference ?? null);
  expectSample(keep(block, 'all', ['Qn']), robust(values));
  expectQn(blockAt(block, 'Qn'), values);
}

/** The reference rounds the distance of the pair to single precision in some samples: 0.22 to 0.2199999988. */
function expectQn(reference: JsonObject, values: Values): void {
  const plain = { constant: 1, smallSampleFactor: false };
  const distance = qn(values, plain).scale;
  const factor = distance === 0 ? 1 : qn(values, { constant: 1 }).scale / distance;
  const candidates = [distance, Math.fround(distance)].map((d) => 2.21914 * d);
  const theirs = reference.uncorrected as number;
  const ours = candidates.sort((a, b) => Math.abs(a - theirs) - Math.abs(b - theirs))[0]!;
  expect(ours).toAgreeWithin(theirs, 1e-10);
  expect(ours * factor).toAgreeWithin(reference.corrected as number, 1e-10);
}

/**
 * The reference stops Huber's iteration after 30 steps at most, converged or not: the same steps from the same start. Ours
 * runs on; that it ends where one more step changes nothing is asserted here too.
 */
function afterThirtySteps(values: Values): { location: number; scale: number } {
  const k = 1.5;
  const inside = 2 * normalCdf(k) - 1;
  const constant = inside + k * k * (1 - inside) - 2 * k * normalDensity(k);
  const step = (location: number, scale: number) => {
    const pulled = values.map((x) => Math.min(location + k * scale, Math.max(location - k * scale, x)));
    return { location: mean(pulled), scale: standardDeviation(pulled) / Math.sqrt(constant) };
  };
  let current = { location: median(values), scale: scaledMedianAbsoluteDeviation(values, 1.4826) };
  for (let i = 0; i < 30; i++) {
    const next = step(current.location, current.scale);
    const moved = Math.max(Math.abs(next.location - current.location), Math.abs(next.scale - current.scale));
    if (moved < 1e-13 * current.scale) break;
    current = next;
  }
  const ours = huberProposal2(values);
  const again = step(ours.location, ours.scale);
  expect(ours.location).toAgreeWithin(again.location, 1e-13);
  expect(ours.scale).toAgreeWithin(again.scale, 1e-13);
  if (ours.iterations < 30) expect(ours.scale).toAgreeWithin(current.scale, 1e-12);
  return current;
}

/** Algorithm A alone. */
export function algorithmABlock(values: Values): Block {
  const a = algorithmA(values);
  return { x_star: a.location, s_star: a.scale, u_x_star: a.standardUncertainty };
}

/** The parts of a control chart that are statistics of a sequence. */
export function sequence(values: Values): Block {
  const slope = trend(values);
  return {
    n: values.length,
    mean: mean(values),
    sd: standardDeviation(values),
    // The reference counts a value equal to the centre line as below it.
    longest_run_one_side: runsTest(
      values.map((x) => (x > mean(values) ? 1 : -1)),
      0,
    ).longest,
    lag1_autocorrelation: autocorrelation(values),
    von_neumann_ratio: vonNeumannTest(values).ratio,
    trend: { slope_per_run: slope.slope, se: slope.standardUncertainty, p: slope.pValue },
  };
}

/** Tests that groups have one variance, and of outlying groups. */
export function homogeneity(groups: Groups): Block {
  const bartlett = bartlettTest(groups);
  return {
    bartlett: { K2: bartlett.statistic, df: bartlett.degreesOfFreedom[0]!, p: bartlett.pValue },
    levene_median: levene(groups, 'median'),
    levene_mean: levene(groups, 'mean'),
  };
}

function levene(groups: Groups, centre: 'median' | 'mean'): Block {
  const { statistic, degreesOfFreedom, pValue } = leveneTest(groups, centre);
  return { F: statistic, df: [...degreesOfFreedom], p: pValue };
}

/** Cochran's test of equal groups. */
export function cochran(groups: Groups): Block {
  const { statistic, pValue } = cochranTest(groups);
  const [p, n] = [groups.length, groups[0]!.length];
  return {
    C: statistic,
    p: pValue,
    'critical_0.05': cochranCritical(p, n, 0.05),
    'critical_0.01': cochranCritical(p, n, 0.01),
  };
}

/** Mandel's h and k of equal groups. */
export function mandel(groups: Groups): Block {
  const { h, k } = mandelConsistency(groups);
  const [p, n] = [groups.length, groups[0]!.length];
  return {
    h: [...h],
    k: [...k],
    h_critical: { '0.05': mandelHCritical(p, 0.05), '0.01': mandelHCritical(p, 0.01) },
    k_critical: { '0.05': mandelKCritical(p, n, 0.05), '0.01': mandelKCritical(p, n, 0.01) },
  };
}

/** A t test in the reference's words; `estimate` of two samples is their means. */
export function tTestBlock(test: TTest, estimate: Computed = test.difference): Block {
  return {
    t: test.t,
    df: test.degreesOfFreedom,
    p_two_sided: test.pValue,
    estimate,
    ci95: [test.interval.low, test.interval.high],
    se: test.standardUncertainty,
  };
}

/** The parts of a chart that are limits and signals, not statistics of the sequence. */
export const chartOutside = [
  'mean_moving_range',
  'sigma_from_MR',
  'limits',
  'warning_limits',
  'MR_upper_limit',
  'beyond_3_sigma_runs',
  'MR_beyond_runs',
];

/** The wanted members of a block that it has, or all but those left out. */
export function keep(
  block: JsonObject,
  wanted: readonly string[] | 'all',
  leftOut: readonly string[] = [],
): JsonObject {
  const kept = Object.entries(block).filter(
    ([key]) => (wanted === 'all' || wanted.includes(key)) && !leftOut.includes(key),
  );
  if (kept.length === 0) throw new Error(`the reference has none of ${String(wanted)}`);
  return Object.fromEntries(kept);
}
