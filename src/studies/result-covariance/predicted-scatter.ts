import { correlatedResult } from '../../chain/correlated-result.js';
import { resultModel } from '../../chain/result-model.js';
import type { CorrelatedResult } from '../../uncertainty/correlated-results/correlated-result.js';
import type { DigestionResult } from '../evaluate-study.js';
import type { LevelRows, NestedLevels } from './nested-levels.js';
import {
  addScatterProducts,
  deviations,
  noProducts,
  type ScatterOfResults,
  scatterComponents,
} from './scatter-of-results.js';

/** A result on the components route, without what the components do not explain. */
export function explainedResult({ observation }: Pick<DigestionResult, 'observation'>): CorrelatedResult {
  return correlatedResult(observation, resultModel(observation, { route: 'components', unexplained: null }));
}

/** Days of a level that a prediction is taken from: what results share is the same day by day. */
const daysUsed = 4;

/**
 * Scatter that the chain itself predicts, as the same analysis of variance would find it: what two digestions of a day share is no
 * scatter between them, and what all days share is none at all. What is shared follows from the sources of each result; a check
 * solution, for one, lies between two digestions of a run or beside both.
 *
 * @throws InputError a result that the law of propagation refuses
 * @see JCGM 100:2008 (GUM), 5.2 and F.1.2.3 (correlation by shared inputs), H.5 (variance components)
 */
export function predictedScatter({
  analytes,
  levels,
}: NestedLevels): Pick<ScatterOfResults, 'digestions' | 'days'> {
  const sums = noProducts(analytes.length);
  const used = levels.map((level) => ({ ...level, days: fullestDays(level) }));
  for (const level of used) {
    for (const effects of sourcesOf(level))
      addScatterProducts(
        sums,
        level,
        deviations(level, (result, a) => (effects.get(result) ?? 0) / level.centres[a]!),
      );
  }
  return scatterComponents(sums, used);
}

/** Days with the most digestions, since one digestion of a day tells nothing of what a day shares; of these the earliest. */
function fullestDays({ days }: LevelRows): LevelRows['days'] {
  return new Map([...days].sort((a, b) => b[1].length - a[1].length).slice(0, daysUsed));
}

/** What each source does to the results of a level. */
function sourcesOf({ days }: LevelRows): Iterable<ReadonlyMap<DigestionResult, number>> {
  const sources = new Map<string, Map<DigestionResult, number>>();
  for (const result of [...days.values()].flat(2)) {
    if (result === null) continue;
    for (const [key, { value }] of explainedResult(result).parts) {
      const effects = sources.get(key) ?? new Map<DigestionResult, number>();
      sources.set(key, effects.set(result, value));
    }
  }
  return sources.values();
}
