import { correlatedResult } from '../../chain/correlated-result.js';
import type { CountingRoute } from '../../chain/counting-route.js';
import { type RandomParts, resultModel } from '../../chain/result-model.js';
import { InputError } from '../../errors.js';
import { withParts } from '../../uncertainty/correlated-results/combine-results.js';
import type { CorrelatedResult, SourcePart } from '../../uncertainty/correlated-results/correlated-result.js';
import type { DigestionResult, EvaluatedStudy } from '../evaluate-study.js';
import { type CovarianceLoads, covarianceLoads } from './covariance-loads.js';
import { nestedLevels } from './nested-levels.js';
import { predictedScatter } from './predicted-scatter.js';
import { type ScatterOfResults, scatterOfResults } from './scatter-of-results.js';

/** Scatter that a route adds to each result, as loads shared by the analytes of one digestion and of one day. */
export interface AddedScatter {
  readonly analytes: readonly string[];
  readonly digestions: CovarianceLoads;
  readonly days: CovarianceLoads;
  /** By analyte. */
  readonly degreesOfFreedomDigestions: readonly number[];
  /** By analyte. */
  readonly degreesOfFreedomDays: readonly number[];
  /** Content below which the scatter stays what it is there, by analyte; 0 where it is in proportion throughout. */
  readonly constantBelow: readonly number[];
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
 * first (the rest is the unexplained fusion–dissolution variation, in proportion to the content); on the precision route the observed
 * scatter stands for all random steps, and below the lowest level it stays what it is there, since blanks do not shrink with the content.
 *
 * @throws InputError no level whose results are repeated within and over days
 */
export function studyCovariance(study: EvaluatedStudy, route: CountingRoute): StudyCovariance {
  const nested = nestedLevels(study);
  const scatter = scatterOfResults(nested);
  const predicted = route === 'components' ? predictedScatter(nested) : null;
  const added: AddedScatter = {
    analytes: scatter.analytes,
    digestions: covarianceLoads(without(scatter.digestions, predicted?.digestions)),
    days: covarianceLoads(without(scatter.days, predicted?.days)),
    degreesOfFreedomDigestions: scatter.degreesOfFreedomDigestions,
    degreesOfFreedomDays: scatter.degreesOfFreedomDays,
    // Blank and floor of the signal are components of their own on one route; on the other the observed scatter holds them too.
    constantBelow: route === 'components' ? scatter.lowest.map(() => 0) : scatter.lowest,
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
  const scale = Math.max(Math.abs(result.estimate), added.constantBelow[row]!);
  const parts = (kind: 'digestions' | 'days', group: string, place: string, degreesOfFreedom: number) =>
    added[kind].loads[row]!.map((load, k): SourcePart & { readonly key: string } => ({
      key: `${group} ${k + 1}@${place}`,
      value: load * scale,
      group,
      degreesOfFreedom,
      variesWith: kind === 'digestions' ? 'digestion' : 'run',
    }));
  return withParts(result, [
    ...parts(
      'digestions',
      'scatter of digestions',
      observation.digestion,
      added.degreesOfFreedomDigestions[row]!,
    ),
    ...parts('days', 'scatter of days', day, added.degreesOfFreedomDays[row]!),
  ]);
}

function without(
  observed: readonly (readonly number[])[],
  predicted: readonly (readonly number[])[] | undefined,
): number[][] {
  return observed.map((row, a) => row.map((value, b) => value - (predicted?.[a]?.[b] ?? 0)));
}
