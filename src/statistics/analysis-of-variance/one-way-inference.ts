import { requireProbability } from '../../errors.js';
import { fQuantile } from '../distributions/f.js';
import { studentTQuantile } from '../distributions/student-t.js';
import type { Interval } from '../interval.js';
import type { OneWayAnalysis } from './one-way.js';

/** Share of the variance of a single value that lies between groups. */
export interface IntraclassCorrelation {
  readonly estimate: number;
  readonly interval: Interval;
  readonly method: string;
  readonly notes: readonly string[];
}

/**
 * Intraclass correlation σ²_between/(σ²_between + σ²_within) with its exact F interval.
 *
 * Exact in balanced designs; with unequal groups the effective group size stands for n.
 *
 * @throws InputError coverage outside (0, 1)
 * @see Searle, Casella and McCulloch, Variance Components, 1992, 3.6
 * @example
 * const table = { degreesOfFreedomBetween: 2, degreesOfFreedomWithin: 3, effectiveGroupSize: 2, f: 4 };
 * intraclassCorrelation(table).estimate // => 0.6
 */
export function intraclassCorrelation(analysis: OneWayAnalysis, coverage = 0.95): IntraclassCorrelation {
  requireProbability(coverage, 'coverage');
  const { degreesOfFreedomBetween: nu1, degreesOfFreedomWithin: nu2, effectiveGroupSize: n, f } = analysis;
  const tail = (1 - coverage) / 2;
  const share = (ratio: number) => (ratio === Number.POSITIVE_INFINITY ? 1 : (ratio - 1) / (ratio - 1 + n));
  return {
    estimate: share(f),
    interval: {
      low: share(f / fQuantile(1 - tail, nu1, nu2)),
      high: share(f / fQuantile(tail, nu1, nu2)),
      coverage,
    },
    method: 'intraclass correlation with exact F interval',
    notes:
      f < 1 ? ['The estimate is below 0: groups differ by less than the spread within them explains.'] : [],
  };
}

/** Grand mean of grouped results with its uncertainty. */
export interface GrandMean {
  readonly mean: number;
  readonly standardUncertainty: number;
  readonly degreesOfFreedom: number;
  readonly interval: Interval;
  readonly method: string;
  readonly notes: readonly string[];
}

/**
 * Grand mean of a one-way design, its standard uncertainty √(MS_between/N) and degrees of freedom p − 1.
 *
 * Results of one group share its effect: n results of one day are not n independent results. Exact in balanced designs; for
 * unequal groups prefer `remlNested`.
 *
 * @throws InputError coverage outside (0, 1)
 * @see GUM (JCGM 100:2008), H.5.2.5
 * @example
 * const table = { grandMean: 10.1, meanSquareBetween: 0.06, n: 6, degreesOfFreedomBetween: 2, groupSizes: [2, 2, 2] };
 * grandMean(table).standardUncertainty // => 0.1
 */
export function grandMean(analysis: OneWayAnalysis, coverage = 0.95): GrandMean {
  requireProbability(coverage, 'coverage');
  const u = Math.sqrt(analysis.meanSquareBetween / analysis.n);
  const reach = studentTQuantile((1 + coverage) / 2, analysis.degreesOfFreedomBetween) * u;
  const balanced = analysis.groupSizes.every((size) => size === analysis.groupSizes[0]);
  return {
    mean: analysis.grandMean,
    standardUncertainty: u,
    degreesOfFreedom: analysis.degreesOfFreedomBetween,
    interval: { low: analysis.grandMean - reach, high: analysis.grandMean + reach, coverage },
    method: 'grand mean with the mean square between groups',
    notes: balanced ? [] : ['Groups differ in size: uncertainty and degrees of freedom are approximate.'],
  };
}
