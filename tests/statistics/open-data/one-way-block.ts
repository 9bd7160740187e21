import { oneWayAnalysis } from '../../../src/statistics/analysis-of-variance/one-way.js';
import {
  grandMean,
  intraclassCorrelation,
} from '../../../src/statistics/analysis-of-variance/one-way-inference.js';
import { satterthwaiteDegreesOfFreedom } from '../../../src/statistics/analysis-of-variance/satterthwaite.js';
import { varianceInterval } from '../../../src/statistics/analysis-of-variance/variance-interval.js';
import type { Computed } from '../../support/expect-block.js';

type Block = { [key: string]: Computed };

const spread = (values: readonly number[]) => {
  const mean = values.reduce((a, b) => a + b, 0) / values.length;
  return Math.sqrt(values.reduce((a, v) => a + (v - mean) ** 2, 0) / (values.length - 1));
};

/** Table and components of a one-way analysis in the reference's shape. */
export function computedOneWay(groups: readonly (readonly number[])[]): Block {
  const found = oneWayAnalysis(groups);
  const mean = grandMean(found);
  return {
    groups: found.groups,
    N: found.n,
    n_per_group: found.groupSizes,
    n0: found.effectiveGroupSize,
    group_means: found.groupMeans,
    group_sds: groups.map(spread),
    grand_mean: found.grandMean,
    anova: computedTable(groups),
    total_SS: found.sumOfSquaresBetween + found.sumOfSquaresWithin,
    r_squared: found.rSquared,
    components: computedComponents(groups),
    grand_mean_se: mean.standardUncertainty,
    grand_mean_ci95_t_between_df: [mean.interval.low, mean.interval.high],
  };
}

/** Lines of the table. */
export function computedTable(groups: readonly (readonly number[])[]): Computed {
  const found = oneWayAnalysis(groups);
  return [
    {
      term: 'between',
      df: found.degreesOfFreedomBetween,
      SS: found.sumOfSquaresBetween,
      MS: found.meanSquareBetween,
      F: found.f,
      p: found.pValue,
    },
    {
      term: 'within',
      df: found.degreesOfFreedomWithin,
      SS: found.sumOfSquaresWithin,
      MS: found.meanSquareWithin,
    },
  ];
}

/** Components of the random-effects model. */
export function computedComponents(groups: readonly (readonly number[])[]): Block {
  const found = oneWayAnalysis(groups);
  const total = found.betweenVariance + found.withinVariance;
  const n0 = found.effectiveGroupSize;
  const { interval } = varianceInterval(found.withinVariance, found.degreesOfFreedomWithin);
  const correlation = intraclassCorrelation(found);
  return {
    within_variance: found.withinVariance,
    within_sd: Math.sqrt(found.withinVariance),
    between_variance_untruncated: found.betweenVarianceUnconstrained,
    between_variance: found.betweenVariance,
    between_sd: Math.sqrt(found.betweenVariance),
    total_variance: total,
    total_sd: Math.sqrt(total),
    satterthwaite_df_total: satterthwaiteDegreesOfFreedom([
      {
        coefficient: 1 / n0,
        meanSquare: found.meanSquareBetween,
        degreesOfFreedom: found.degreesOfFreedomBetween,
      },
      {
        coefficient: 1 - 1 / n0,
        meanSquare: found.meanSquareWithin,
        degreesOfFreedom: found.degreesOfFreedomWithin,
      },
    ]),
    within_sd_ci95_chisq: [Math.sqrt(interval.low), Math.sqrt(interval.high)],
    intraclass_correlation: correlation.estimate,
    intraclass_correlation_ci95_exact_F: [correlation.interval.low, correlation.interval.high],
  };
}
