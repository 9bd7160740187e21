import {
  sumOfResults,
  withParts,
  withSomeParts,
} from '../../uncertainty/correlated-results/combine-results.js';
import {
  type CorrelatedResult,
  effectiveDegreesOfFreedomOf,
  standardUncertaintyOf,
} from '../../uncertainty/correlated-results/correlated-result.js';
import { type TotalOfOxides, totalOfOxides } from '../../validation/acceptance/total-of-oxides.js';
import { meanOverDays } from '../../validation/mean-over-days.js';
import type { DigestionResult, EvaluatedStudy } from '../evaluate-study.js';
import { explainedResult } from '../result-covariance/predicted-scatter.js';
import { criterionFor, resultsOf } from './matrix-context.js';

const toGPer100G = { 'mg/kg': 1e-4, 'g/100 g': 1 } as const;

/**
 * Total of oxides of each level: mean over the days of the totals of single digestions, so that their scatter holds every
 * random covariance; what is common to all results is added from the models of one digestion, a quantity that several oxides
 * share counted once with the sum of its sensitivities.
 *
 * @see JCGM 100:2008 (GUM), 5.2 and H.5; JCGM 102:2011, 6.2
 */
export function totalStudy(study: EvaluatedStudy): TotalOfOxides[] {
  const { plan } = study.index.records;
  const oxides = plan.analytes.filter((scope) => scope.oxide !== undefined);
  return plan.levels.flatMap(({ level, sample }) => {
    const bySample = oxides.map((scope) => resultsOf(study, scope.analyte, 'sample', sample));
    const complete = (bySample[0] ?? []).flatMap((first) => {
      const results = bySample.flatMap((of) => of.find((r) => r.digestion === first.digestion) ?? []);
      if (results.length < oxides.length) return [];
      return [{ day: first.day, value: totalOf(results), results }];
    });
    if (oxides.length < 2 || complete.length < 2) return [];
    const { standardUncertainty: scatter, degreesOfFreedom } = meanOverDays(complete);
    const total = withParts(commonTo(middleOf(complete).results), [
      {
        key: 'scatter of totals over days',
        value: scatter ?? 0,
        group: 'scatter of totals over days',
        degreesOfFreedom,
        variesWith: 'run',
      },
    ]);
    return [
      totalOfOxides({
        level,
        criterion: criterionFor(plan, 'total of oxides', '*', level),
        contributions: oxides.map((scope, i) => ({
          name: scope.oxide!,
          massFraction: mean(bySample[i]!.map((r) => r.value)) * toGPer100G[scope.unit],
        })),
        standardUncertainty: standardUncertaintyOf(total),
        degreesOfFreedom: effectiveDegreesOfFreedomOf(total),
        rows: [{ table: 'digestions', keys: complete.map(({ results }) => results[0]!.digestion) }],
      }),
    ];
  });
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

type ValuedResult = DigestionResult & { readonly value: number };

/** Sum of the results of one digestion, g/100 g. */
function totalOf(results: readonly ValuedResult[]): number {
  return results.reduce((sum, r) => sum + r.value * toGPer100G[r.observation.basis.unit], 0);
}

/** The digestion whose total is nearest to the median of all. */
function middleOf<Row extends { readonly value: number }>(rows: readonly Row[]): Row {
  return [...rows].sort((a, b) => a.value - b.value)[Math.floor((rows.length - 1) / 2)]!;
}

/** Sum of the results of one digestion, g/100 g, with what recurs in every other one; the scatter over days holds the rest. */
function commonTo(results: readonly ValuedResult[]): CorrelatedResult {
  const terms = results.map((r) => ({
    result: explainedResult(r),
    coefficient: toGPer100G[r.observation.basis.unit],
  }));
  return withSomeParts(sumOfResults('total of oxides', 'g/100 g', terms), (part) => part.variesWith === null);
}
