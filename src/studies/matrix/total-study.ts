import { type ResultModel, resultModel } from '../../chain/result-model.js';
import { propagate } from '../../uncertainty/propagate.js';
import { type TotalOfOxides, totalOfOxides } from '../../validation/acceptance/total-of-oxides.js';
import { meanOverDays } from '../../validation/mean-over-days.js';
import type { DigestionResult, EvaluatedStudy } from '../evaluate-study.js';
import { medianResult } from './budget-study.js';
import { criterionFor, resultsOf } from './matrix-context.js';

const toGPer100G = { 'mg/kg': 1e-4, 'g/100 g': 1 } as const;

/**
 * Total of oxides of each level: mean over the days of the totals of single digestions, so that their scatter holds every
 * random covariance; what is common to all results is added from the budgets, a quantity that several oxides share
 * counted once with the sum of its sensitivities.
 */
export function totalStudy(study: EvaluatedStudy): TotalOfOxides[] {
  const { plan } = study.index.records;
  const oxides = plan.analytes.filter((scope) => scope.oxide !== undefined);
  return plan.levels.flatMap(({ level, sample }) => {
    const bySample = oxides.map((scope) => resultsOf(study, scope.analyte, 'sample', sample));
    const complete = (bySample[0] ?? []).filter((r) =>
      bySample.every((results) => results.some((other) => other.digestion === r.digestion)),
    );
    if (oxides.length < 2 || complete.length < 2) return [];
    const totals = complete.map((r) => ({
      day: r.day,
      value: bySample.reduce((sum, results) => {
        const own = results.find((other) => other.digestion === r.digestion)!;
        return sum + own.value * toGPer100G[own.observation.basis.unit];
      }, 0),
    }));
    const overDays = meanOverDays(totals);
    const observed = overDays.standardUncertainty ?? 0;
    const common = commonUncertainty(oxides.map((scope) => medianResult(study, scope.analyte, sample)));
    const standardUncertainty = Math.hypot(observed, common);
    return [
      totalOfOxides({
        level,
        criterion: criterionFor(plan, 'total of oxides', '*', level),
        contributions: oxides.map((scope, i) => ({
          name: scope.oxide!,
          massFraction: mean(bySample[i]!.map((r) => r.value)) * toGPer100G[scope.unit],
        })),
        standardUncertainty,
        degreesOfFreedom:
          observed === 0
            ? Number.POSITIVE_INFINITY
            : overDays.degreesOfFreedom * (standardUncertainty / observed) ** 4,
        rows: [{ table: 'digestions', keys: complete.map((r) => r.digestion) }],
      }),
    ];
  });
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** Standard uncertainty, g/100 g, of a sum of results from what all of them share beyond their scatter. */
function commonUncertainty(results: readonly DigestionResult[]): number {
  const sums = new Map<string, { sensitivity: number; standardUncertainty: number }>();
  for (const result of results) {
    const model = resultModel(result.observation, { route: 'components', unexplained: null });
    const scale = toGPer100G[result.observation.basis.unit];
    for (const { name, sensitivity, standardUncertainty } of systematicParts(model)) {
      const sum = sums.get(name)?.sensitivity ?? 0;
      sums.set(name, { sensitivity: sum + sensitivity * scale, standardUncertainty });
    }
  }
  return Math.hypot(...[...sums.values()].map((part) => part.sensitivity * part.standardUncertainty));
}

function systematicParts(model: ResultModel) {
  const { sensitivities } = propagate(model.model, model.inputs, model.correlations).outputs[0]!;
  return model.inputs
    .filter((input) => !input.withinPrecision && input.standardUncertainty > 0)
    .map(({ name, standardUncertainty }) => ({
      name,
      standardUncertainty,
      sensitivity: sensitivities[name]!,
    }));
}
