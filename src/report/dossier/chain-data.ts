import type { ChainUncertainty } from '../../studies/chain-uncertainty/chain-uncertainty.js';
import type { BudgetByBothMethods } from '../../studies/chain-uncertainty/compare-with-simulation.js';
import type { Budget } from '../../uncertainty/budget.js';

/**
 * Everything at full precision: budgets by both routes and figures of each simulation, without the cells of histograms; the
 * functions that are handed on.
 */
export function chainData({
  validation,
  simulation,
  levels,
  functions,
  improvement,
}: ChainUncertainty): unknown {
  return {
    findings: validation.budgets.map((b) => b.finding),
    simulation,
    levels: levels.map(({ routes, methods, model, ...level }) => ({
      ...level,
      equations: model.equations,
      components: routes.components,
      precision: routes.precision,
      componentsAlone: figuresOf(routes.componentsAlone),
      precisionInterval: routes.precisionInterval,
      position: routes.position,
      positionAlone: routes.positionAlone,
      simulated: {
        components: simulatedFigures(methods.components),
        precision: simulatedFigures(methods.precision),
        known: simulatedFigures(methods.known),
      },
    })),
    uncertaintyFunctions: functions,
    improvement,
  };
}

function figuresOf({ lines: _, ...figures }: Budget): Omit<Budget, 'lines'> {
  return figures;
}

function simulatedFigures({ budget, simulated, comparison }: BudgetByBothMethods): unknown {
  const { histogram: _, ...figures } = simulated;
  return { propagation: figuresOf(budget), simulation: figures, comparison };
}
