import { routeFactor } from '../../chain/counting-route.js';
import { takenAsExact } from '../../chain/model-fragment.js';
import type { ResultModel } from '../../chain/result-model.js';
import type { Budget } from '../../uncertainty/budget.js';
import { makeBudget } from '../../uncertainty/make-budget.js';
import { propagate } from '../../uncertainty/propagate.js';
import type { LevelBudget } from '../matrix/budget-study.js';

/** Where a standard uncertainty lies against an interval. */
export type Position = 'below' | 'within' | 'above';

/** Both counting routes of one result side by side. */
export interface RouteComparison {
  /** The components alone: without the variation that they do not explain. */
  readonly componentsAlone: Budget;
  readonly components: Budget;
  readonly precision: Budget;
  /** Standard uncertainty by the precision route at the ends of the 95 % interval of the observed scatter, unit of the result. */
  readonly precisionInterval: { readonly low: number; readonly high: number };
  readonly position: Position;
  readonly positionAlone: Position;
}

/**
 * Component route and precision-anchored route of one result, and whether the first lies within what the observed scatter
 * can tell of the second.
 *
 * @see Eurachem/CITAC QUAM:2012, 7.6 and 7.7 (use of validation data)
 */
export function compareRoutes(level: LevelBudget): RouteComparison {
  const { components, precision, scatter, models } = level;
  const componentsAlone = budgetWithout(models.components, routeFactor.components);
  const observed = precision.lines.find(({ input }) => input.name === routeFactor.precision)!.contribution;
  const rest = precision.standardUncertainty ** 2 - observed ** 2;
  // Per unit of relative scatter; results that do not scatter at all leave nothing to scale.
  const perRelative = scatter.observed === 0 ? 0 : observed / scatter.observed;
  const at = (relative: number) => Math.sqrt(Math.max(0, rest) + (perRelative * relative) ** 2);
  const precisionInterval = {
    low: at(scatter.observedInterval.low),
    high: at(scatter.observedInterval.high),
  };
  const positionOf = ({ standardUncertainty: u }: Budget): Position => {
    if (u < precisionInterval.low) return 'below';
    return u > precisionInterval.high ? 'above' : 'within';
  };
  return {
    componentsAlone,
    components,
    precision,
    precisionInterval,
    position: positionOf(components),
    positionAlone: positionOf(componentsAlone),
  };
}

function budgetWithout({ model, inputs, correlations }: ResultModel, name: string): Budget {
  const without = inputs.map((input) =>
    input.name === name && input.standardUncertainty > 0 ? takenAsExact(input, 'left out') : input,
  );
  return makeBudget(propagate(model, without, correlations), 'w');
}
