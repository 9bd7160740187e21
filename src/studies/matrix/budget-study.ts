import type { CountingRoute, UnexplainedVariation } from '../../chain/counting-route.js';
import { takenAsExact } from '../../chain/model-fragment.js';
import { type RandomParts, type ResultModel, resultModel } from '../../chain/result-model.js';
import { chiSquaredSurvival } from '../../statistics/distributions/chi-squared.js';
import { fSurvival } from '../../statistics/distributions/f.js';
import type { Budget } from '../../uncertainty/budget.js';
import { makeBudget } from '../../uncertainty/make-budget.js';
import { propagate } from '../../uncertainty/propagate.js';
import { targetUncertainty } from '../../validation/acceptance/target-uncertainty.js';
import type { Finding } from '../../validation/finding.js';
import type { Precision } from '../../validation/precision/precision.js';
import { scatterOverDays } from '../../validation/precision/precision-estimates.js';
import type { DigestionResult, EvaluatedStudy } from '../evaluate-study.js';
import type { BudgetConditions } from './budget-conditions.js';
import { criterionFor, resultsOf } from './matrix-context.js';
import type { LevelPrecision } from './precision-study.js';

/** Predicted against observed scatter of a reported result over days, relative to the result. */
export interface PredictedAgainstObserved {
  readonly predicted: number;
  readonly predictedDegreesOfFreedom: number;
  /**
   * From the mean squares as they were, not held at the repeatability where days differ less than it: value, interval, degrees of
   * freedom and test are of one statistic (the standard deviation of the day means for results of a whole day).
   */
  readonly observed: number;
  readonly observedDegreesOfFreedom: number;
  /** 95 %. */
  readonly observedInterval: { readonly low: number; readonly high: number };
  /** Named "unexplained fusion–dissolution variation": √(observed² − predicted²), 0 at the boundary. */
  readonly unexplained: number;
  /** 95 % interval of the unexplained part that the interval of the observed one gives. */
  readonly unexplainedInterval: { readonly low: number; readonly high: number };
  /** One-sided p that the components alone scatter as much as observed; χ² where the prediction has no limited ν, else F. */
  readonly pValue: number;
  readonly test: 'chi-squared' | 'F';
}

/** Budget of one analyte at one level by both counting routes; the plan's route decides. */
export interface LevelBudget {
  readonly analyte: string;
  readonly level: string;
  /** Digestion nearest to the median of the level: its records are the inputs. */
  readonly digestion: string;
  readonly unit: string;
  readonly components: Budget;
  readonly precision: Budget;
  readonly decisive: Budget;
  /** Of the decisive route. */
  readonly model: ResultModel;
  readonly models: Readonly<Record<CountingRoute, ResultModel>>;
  readonly scatter: PredictedAgainstObserved;
  readonly targetPercent: number | null;
  /** What the budget does not hold, such as a bias that was found; null where there is nothing. */
  readonly outsideBudget: string | null;
  readonly finding: Finding;
}

/**
 * One budget for each analyte and level where precision was studied and the median is above 0, as budgets are relative to it.
 *
 * @param outsideBudget by analyte: what the budget does not hold, such as a bias found that is neither corrected nor carried
 * @param conditions what a *met* target rests on that is itself open
 */
export function budgetStudy(
  study: EvaluatedStudy,
  precisions: readonly LevelPrecision[],
  outsideBudget: ReadonlyMap<string, string>,
  conditions: BudgetConditions,
): LevelBudget[] {
  return precisions
    .filter(({ analyte, sample }) => medianResult(study, analyte, sample).value > 0)
    .map((level) => levelBudget(study, level, outsideBudget.get(level.analyte) ?? null, conditions));
}

/** Why no budget can be compared with its target where the table of standards is missing. */
export const noStandards = 'The uncertainty of the stock standards is not recorded.';

/** The result of a level whose value is nearest to the median. */
export function medianResult(
  study: EvaluatedStudy,
  analyte: string,
  sample: string,
): DigestionResult & { readonly value: number } {
  const sorted = resultsOf(study, analyte, 'sample', sample).sort((a, b) => a.value - b.value);
  return sorted[Math.floor((sorted.length - 1) / 2)]!;
}

function levelBudget(
  study: EvaluatedStudy,
  level: LevelPrecision,
  unresolvedBias: string | null,
  conditions: BudgetConditions,
): LevelBudget {
  const { plan } = study.index.records;
  const { analyte } = level;
  const median = medianResult(study, analyte, level.sample);
  const n = plan.resultRule.digestions;
  const scatter = predictedAgainstObserved(median, level, n);
  const source = `${level.rows.length} digestions of ${level.sample}`;
  const unexplained = unexplainedVariation(scatter, source);
  const observed = { relative: scatter.observed, degreesOfFreedom: scatter.observedDegreesOfFreedom, source };
  const budgetOf = (random: RandomParts) => {
    const model = resultModel(median.observation, random, n);
    return { model, budget: makeBudget(propagate(model.model, model.inputs, model.correlations), 'w') };
  };
  const components = budgetOf({ route: 'components', unexplained });
  const precision = budgetOf({ route: 'precision', observed });
  const decisive = plan.route === 'components' ? components : precision;
  const { budget } = decisive;
  const criterion = criterionFor(plan, 'target uncertainty', analyte, level.level);
  return {
    analyte,
    level: level.level,
    digestion: median.digestion,
    unit: level.unit,
    components: components.budget,
    precision: precision.budget,
    decisive: budget,
    model: decisive.model,
    models: { components: components.model, precision: precision.model },
    scatter,
    targetPercent: criterion !== null && criterion.unit === '%' ? criterion.limit : null,
    outsideBudget: unresolvedBias,
    finding: targetUncertainty({
      analyte,
      level: level.level,
      unit: level.unit,
      criterion,
      result: budget.estimate,
      expandedUncertainty: budget.expandedUncertainty,
      coverageFactor: budget.coverageFactor,
      coverageProbability: budget.coverageProbability,
      effectiveDegreesOfFreedom: budget.effectiveDegreesOfFreedom,
      unresolvedBias,
      conditions: conditions(analyte, budget),
      rows: [{ table: 'digestions', keys: [median.digestion] }],
    }),
  };
}

/** Scatter that the components alone predict for a result as reported, against what the level shows. */
function predictedAgainstObserved(
  median: DigestionResult & { readonly value: number },
  level: LevelPrecision,
  digestions: number,
): PredictedAgainstObserved {
  const { components } = level.precision;
  const overDays = observedOverDays(level.precision);
  const model = resultModel(median.observation, { route: 'components', unexplained: null }, digestions);
  const random = model.inputs.map((input) =>
    input.withinPrecision || input.standardUncertainty === 0
      ? input
      : takenAsExact(input, 'not part of the scatter'),
  );
  const correlations = model.correlations.filter((c) =>
    [c.first, c.second].every((name) => random.some((i) => i.name === name && i.standardUncertainty > 0)),
  );
  const budget = makeBudget(propagate(model.model, random, correlations), 'w');
  const predicted = budget.standardUncertainty / Math.abs(budget.estimate);
  const predictedDegreesOfFreedom = budget.effectiveDegreesOfFreedom;
  const relative = (value: number) => value / components.mean;
  const observed = relative(overDays.value);
  const excess = (value: number) => Math.sqrt(Math.max(0, value ** 2 - predicted ** 2));
  const ratio = (observed / predicted) ** 2;
  const exact = !Number.isFinite(predictedDegreesOfFreedom);
  return {
    predicted,
    predictedDegreesOfFreedom,
    observed,
    observedDegreesOfFreedom: overDays.degreesOfFreedom,
    observedInterval: { low: relative(overDays.limits.low), high: relative(overDays.limits.high) },
    unexplained: excess(observed),
    unexplainedInterval: {
      low: excess(relative(overDays.limits.low)),
      high: excess(relative(overDays.limits.high)),
    },
    pValue: exact
      ? chiSquaredSurvival(ratio * overDays.degreesOfFreedom, overDays.degreesOfFreedom)
      : fSurvival(ratio, overDays.degreesOfFreedom, predictedDegreesOfFreedom),
    test: exact ? 'chi-squared' : 'F',
  };
}

function observedOverDays({ crossed, components, digestionsPerResult, overDays }: Precision) {
  return crossed === null ? (scatterOverDays(components, digestionsPerResult) ?? overDays) : overDays;
}

/** Degrees of freedom of a difference of variances, by Satterthwaite on the observed part, which carries the scatter. */
export function unexplainedVariation(
  scatter: PredictedAgainstObserved,
  source: string,
): UnexplainedVariation {
  const { unexplained, observed, observedDegreesOfFreedom } = scatter;
  return {
    relative: unexplained,
    degreesOfFreedom:
      unexplained === 0
        ? Number.POSITIVE_INFINITY
        : Math.max(1, observedDegreesOfFreedom * (unexplained / observed) ** 4),
    source: `${source}: observed less predicted scatter`,
  };
}
