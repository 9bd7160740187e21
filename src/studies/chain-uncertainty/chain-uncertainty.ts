import { InputError, requireInteger } from '../../errors.js';
import type { MeasurementModel } from '../../uncertainty/measurement-model.js';
import type { LevelBudget, PredictedAgainstObserved } from '../matrix/budget-study.js';
import type { MatrixValidation } from '../matrix/validate-matrix.js';
import { type ChainImprovement, chainImprovement } from './chain-improvement.js';
import { type ChainShare, chainShares } from './chain-shares.js';
import { compareRoutes, type RouteComparison } from './compare-routes.js';
import {
  type BudgetByBothMethods,
  type ChainSimulation,
  compareWithSimulation,
  withKnownUncertainties,
} from './compare-with-simulation.js';
import { type HandedOn, handedOnFunction } from './handed-on-function.js';

/** The uncertainty of one analyte at one level, looked at from every side. */
export interface LevelChain {
  readonly analyte: string;
  readonly level: string;
  readonly unit: string;
  /** Digestion whose records are the inputs. */
  readonly digestion: string;
  readonly targetPercent: number | null;
  readonly outsideBudget: string | null;
  /** Equation of the chain by the component route. */
  readonly model: MeasurementModel;
  /** Split of the variance by the component route. */
  readonly shares: readonly ChainShare[];
  readonly precisionShares: readonly ChainShare[];
  /** Predicted against observed scatter of a reported result; relative. */
  readonly scatter: PredictedAgainstObserved;
  readonly routes: RouteComparison;
  readonly methods: {
    readonly components: BudgetByBothMethods;
    readonly precision: BudgetByBothMethods;
    /** Component route with every standard uncertainty taken as known: what limited degrees of freedom do not explain. */
    readonly known: BudgetByBothMethods;
  };
}

/** Where the uncertainty of results comes from along the chain, at every level of every analyte. */
export interface ChainUncertainty {
  readonly validation: MatrixValidation;
  readonly simulation: ChainSimulation;
  readonly levels: readonly LevelChain[];
  readonly functions: readonly HandedOn[];
  /** `null` where no budget holds everything that was found. */
  readonly improvement: ChainImprovement | null;
}

/** Least number of trials: about 100 then lie outside a 95 % interval on each side. */
const leastTrials = 4000;

/**
 * The uncertainty of the whole chain for every analyte and level: split by step, predicted against observed scatter,
 * both counting routes, both methods of propagation, the function of the mass fraction for routine results, and what it
 * would take for the hardest analyte.
 *
 * @param simulation seed and number of trials of each simulation
 * @throws InputError no level with results on several days; fewer than 4000 trials
 * @see JCGM 100:2008; JCGM 101:2008, clause 8; QUAM:2012, 7.6 and Appendix E.5
 */
export async function chainUncertainty(
  validation: MatrixValidation,
  simulation: ChainSimulation,
): Promise<ChainUncertainty> {
  requireInteger(simulation.trials, 'trials', leastTrials);
  requireInteger(simulation.seed, 'seed', 0);
  const { budgets, precision } = validation;
  if (budgets.length === 0) {
    throw new InputError('uncertainty of the chain: expected a level with results on two days at least');
  }
  const { plan } = validation.study.index.records;
  const levels: LevelChain[] = [];
  for (const budget of budgets) levels.push(await levelChain(budget, simulation));
  const analytes = [...new Set(budgets.map((b) => b.analyte))];
  return {
    validation,
    simulation,
    levels,
    functions: analytes.map((analyte) =>
      handedOnFunction(
        budgets.filter((b) => b.analyte === analyte),
        plan.route,
      ),
    ),
    improvement: chainImprovement(plan, budgets, precision),
  };
}

async function levelChain(budget: LevelBudget, simulation: ChainSimulation): Promise<LevelChain> {
  const { analyte, level, unit, digestion, targetPercent, outsideBudget, scatter, models } = budget;
  return {
    analyte,
    level,
    unit,
    digestion,
    targetPercent,
    outsideBudget,
    model: models.components.model,
    shares: chainShares(budget.components),
    precisionShares: chainShares(budget.precision),
    scatter,
    routes: compareRoutes(budget),
    methods: {
      components: await compareWithSimulation(models.components, simulation),
      precision: await compareWithSimulation(models.precision, simulation),
      known: await compareWithSimulation(withKnownUncertainties(models.components), simulation),
    },
  };
}
