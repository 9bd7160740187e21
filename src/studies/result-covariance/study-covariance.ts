import { correlatedResult } from '../../chain/correlated-result.js';
import type { CountingRoute } from '../../chain/counting-route.js';
import { type RandomParts, resultModel } from '../../chain/result-model.js';
import { InputError } from '../../errors.js';
import { withParts } from '../../uncertainty/correlated-results/combine-results.js';
import type { CorrelatedResult, SourcePart } from '../../uncertainty/correlated-results/correlated-result.js';
import type { DigestionResult, EvaluatedStudy } from '../evaluate-study.js';
import { medianResult } from '../matrix/budget-study.js';
import { type CovarianceLoads, covarianceLoads } from './covariance-loads.js';
import { type ScatterOfResults, scatterOfResults } from './scatter-of-results.js';

/** Scatter that a route adds to each result, as loads shared by the analytes of one digestion and of one day. */
export interface AddedScatter {
  readonly analytes: readonly string[];
  readonly digestions: CovarianceLoads;
  readonly days: CovarianceLoads;
  readonly degreesOfFreedomDigestions: number;
  readonly degreesOfFreedomDays: number;
}

/** What turns any result of a laboratory's method into one whose covariance with every other is known. */
export interface StudyCovariance {
  readonly route: CountingRoute;
  readonly scatter: ScatterOfResults;
  readonly added: AddedScatter;
  /**
   * One digestion's result. Digestions of one day share the day's part, analytes of one digestion its digestion's.
   *
   * @throws InputError an analyte that the study has no scatter of
   */
  resultOf(result: Pick<DigestionResult, 'observation' | 'day'>): CorrelatedResult;
}

/**
 * Covariances of results from the scatter that a validation observed. On the components route what the chain predicts is taken off
 * first (the rest is the unexplained fusion–dissolution variation); on the precision route the observed scatter stands for all
 * random steps.
 *
 * @throws InputError no level whose results are repeated within and over days
 */
export function studyCovariance(study: EvaluatedStudy, route: CountingRoute): StudyCovariance {
  const scatter = scatterOfResults(study);
  const predicted = route === 'components' ? predictedScatter(study, scatter.analytes) : null;
  const added: AddedScatter = {
    analytes: scatter.analytes,
    digestions: covarianceLoads(without(scatter.digestions, predicted?.digestions)),
    days: covarianceLoads(without(scatter.days, predicted?.days)),
    degreesOfFreedomDigestions: scatter.degreesOfFreedomDigestions,
    degreesOfFreedomDays: scatter.degreesOfFreedomDays,
  };
  return { route, scatter, added, resultOf: (result) => withScatter(result, route, added) };
}

/** The route's model without its factor for scatter: that comes as parts shared between results. */
function partsOf(route: CountingRoute): RandomParts {
  return route === 'components'
    ? { route, unexplained: null }
    : { route, observed: { relative: 0, degreesOfFreedom: Number.POSITIVE_INFINITY, source: 'added apart' } };
}

function withScatter(
  { observation, day }: Pick<DigestionResult, 'observation' | 'day'>,
  route: CountingRoute,
  added: AddedScatter,
): CorrelatedResult {
  const row = added.analytes.indexOf(observation.analyte);
  if (row < 0) throw new InputError(`analyte ${observation.analyte}: the study has no scatter of it`);
  const result = correlatedResult(observation, resultModel(observation, partsOf(route)));
  const parts = (kind: 'digestions' | 'days', group: string, place: string, degreesOfFreedom: number) =>
    added[kind].loads[row]!.map((load, k): SourcePart & { readonly key: string } => ({
      key: `${group} ${k + 1}@${place}`,
      value: load * result.estimate,
      group,
      degreesOfFreedom,
      variesWith: kind === 'digestions' ? 'digestion' : 'run',
    }));
  return withParts(result, [
    ...parts('digestions', 'scatter of digestions', observation.digestion, added.degreesOfFreedomDigestions),
    ...parts('days', 'scatter of days', day, added.degreesOfFreedomDays),
  ]);
}

/** What the chain itself predicts for the scatter between digestions and between days, at the median of each level. */
function predictedScatter(
  study: EvaluatedStudy,
  analytes: readonly string[],
): { readonly digestions: number[][]; readonly days: number[][] } {
  const levels = study.index.records.plan.levels;
  const sum = { digestions: zeros(analytes.length), days: zeros(analytes.length) };
  for (const { sample } of levels) {
    const reference = medianResult(study, analytes[0]!, sample);
    const own = analytes.map((analyte) => {
      const { observation } = study.results.find(
        (r) => r.digestion === reference.digestion && r.analyte === analyte,
      )!;
      return correlatedResult(observation, resultModel(observation, partsOf('components')));
    });
    own.forEach((a, i) => {
      own.forEach((b, j) => {
        sum.digestions[i]![j]! += sharedPart(a, b, 'digestion') / levels.length;
        sum.days[i]![j]! += sharedPart(a, b, 'run') / levels.length;
      });
    });
  }
  return sum;
}

/** Relative covariance of two results from what comes anew with each digestion, or with each run. */
function sharedPart(a: CorrelatedResult, b: CorrelatedResult, wanted: 'digestion' | 'run'): number {
  let sum = 0;
  for (const [key, part] of a.parts) {
    if (part.variesWith === wanted) sum += part.value * (b.parts.get(key)?.value ?? 0);
  }
  return sum / (a.estimate * b.estimate);
}

function zeros(p: number): number[][] {
  return Array.from({ length: p }, () => new Array<number>(p).fill(0));
}

function without(
  observed: readonly (readonly number[])[],
  predicted: readonly (readonly number[])[] | undefined,
): number[][] {
  return observed.map((row, a) => row.map((value, b) => value - (predicted?.[a]?.[b] ?? 0)));
}
