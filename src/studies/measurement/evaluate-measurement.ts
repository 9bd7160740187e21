import { InputError } from '../../errors.js';
import type { Budget } from '../../uncertainty/budget.js';
import type { BudgetFile, BudgetFileTarget } from '../../uncertainty/budget-file/budget-file.js';
import { inputsOfBudgetFile } from '../../uncertainty/budget-file/inputs-of-budget-file.js';
import type { Correlation, InputQuantity } from '../../uncertainty/input-quantity.js';
import { makeBudget } from '../../uncertainty/make-budget.js';
import type { MeasurementModel } from '../../uncertainty/measurement-model.js';
import { type CompiledModel, compileModel } from '../../uncertainty/model/compile-model.js';
import { type Propagation, propagate } from '../../uncertainty/propagate.js';
import { numericalSensitivities } from '../../uncertainty/propagation/numerical-sensitivities.js';
import { type ReportingLine, reportingLine } from '../../uncertainty/reporting-line.js';
import { simulate } from '../../uncertainty/simulation/simulate.js';
import type {
  SimulatedOutput,
  Simulation,
  SimulationOptions,
} from '../../uncertainty/simulation/simulation.js';
import {
  type ImprovementAction,
  type WhatWouldItTake,
  whatWouldItTake,
} from '../../uncertainty/what-would-it-take.js';
import { compareMethods, type MethodComparison } from './compare-methods.js';
import { type SecondOrderEffect, secondOrderEffect } from './second-order-effect.js';

/** A measurement to evaluate: its model, what is known of the inputs, and what is asked of the outputs. */
export interface Measurement {
  readonly model: MeasurementModel;
  readonly inputs: readonly InputQuantity[];
  readonly correlations?: readonly Correlation[];
  /** 0.95 unless stated. */
  readonly coverageProbability?: number;
  readonly targets?: readonly BudgetFileTarget[];
  /** What the laboratory could do to come down to a target. */
  readonly actions?: readonly ImprovementAction[];
}

/** How a measurement is evaluated. */
export interface MeasurementOptions {
  /** One output only; all unless stated. */
  readonly output?: string;
  /** 1 000 000 trials of seed 1 unless stated; `null`: the law of propagation alone. */
  readonly simulation?: MeasurementSimulation | null;
}

/** How a measurement is simulated; its coverage probability is that of the measurement. */
export type MeasurementSimulation = Partial<Omit<SimulationOptions, 'coverageProbability'>>;

/** How the simulation went; what it found stands with each output. */
export interface SimulationRecord {
  readonly trials: number;
  readonly seed: number;
  readonly stopped: Simulation['stopped'];
  /** Covariance matrix of the outputs; `null` where an output has no standard uncertainty. */
  readonly covariance: readonly (readonly (number | null)[])[];
  readonly notes: readonly string[];
}

/** Whether the expanded uncertainty is within the target. */
export interface TargetStatement {
  readonly target: number;
  /**
   * The expanded uncertainty compared with it. Where the methods differ, the distance of the estimate of the simulation
   * from the farther end of its symmetric interval.
   */
  readonly expandedUncertainty: number;
  readonly method: 'law of propagation' | 'simulation';
  readonly met: boolean;
}

/** What is found for one output quantity. */
export interface OutputEvaluation {
  readonly budget: Budget;
  readonly secondOrder: SecondOrderEffect;
  /** `null` where nothing was simulated. */
  readonly simulated: SimulatedOutput | null;
  /** `null` where nothing was simulated, or nothing is uncertain. */
  readonly comparison: MethodComparison | null;
  /** The result as reported; `null` where the first-order uncertainty is 0. */
  readonly reported: ReportingLine | null;
  readonly target: TargetStatement | null;
  /** `null` where no target is set. */
  readonly improvement: WhatWouldItTake | null;
}

/** What is found for a measurement. */
export interface MeasurementEvaluation {
  readonly propagation: Propagation;
  /** In the order of the model's outputs. */
  readonly outputs: readonly OutputEvaluation[];
  /** `null` where nothing was simulated. */
  readonly simulation: SimulationRecord | null;
  readonly notes: readonly string[];
}

/** The measurement that a budget file describes. */
export function measurementOf(file: BudgetFile): Measurement {
  const { title, equations, outputs, coverageProbability, targets, actions } = file;
  return {
    model: { title, equations, outputs },
    ...inputsOfBudgetFile(file),
    ...(coverageProbability === undefined ? {} : { coverageProbability }),
    ...(targets === undefined ? {} : { targets }),
    ...(actions === undefined ? {} : { actions }),
  };
}

/**
 * Evaluates a measurement: budgets by the law of propagation, what second-order terms change, a simulation, whether the two
 * agree and why not, the verdict against the target uncertainty and what it would take to meet it. Every sensitivity
 * coefficient is checked against differences.
 *
 * @throws InputError as `propagate` and `simulate`; an output or a target that the model does not have
 * @see JCGM 100:2008, clauses 5 to 7; JCGM 101:2008, clauses 7 and 8
 */
export async function evaluateMeasurement(
  measurement: Measurement,
  options: MeasurementOptions = {},
): Promise<MeasurementEvaluation> {
  const { inputs, correlations = [], targets = [], coverageProbability = 0.95 } = measurement;
  const model = narrowed(measurement.model, options.output);
  requireTargets(measurement.model, targets);
  const ready = compileModel(model);
  const propagation = propagate(ready, inputs, correlations);
  const wanted = options.simulation === undefined ? {} : options.simulation;
  const simulation =
    wanted === null
      ? null
      : await simulate(model, inputs, correlations, { seed: 1, ...wanted, coverageProbability });
  const digits = Math.min(2, wanted?.adaptive?.digits ?? 2);
  return {
    propagation,
    outputs: model.outputs.map((output, i) =>
      outputEvaluation(output, propagation, measurement, {
        simulated: simulation?.outputs[i] ?? null,
        digits,
      }),
    ),
    simulation: simulation === null ? null : recordOf(simulation),
    notes: sensitivityNotes(ready, inputs),
  };
}

function sensitivityNotes(ready: CompiledModel, inputs: readonly InputQuantity[]): string[] {
  return numericalSensitivities(ready, inputs)
    .filter(({ agrees }) => !agrees)
    .map(
      ({ output, input, coefficient, numerical }) =>
        `sensitivity of ${output} to ${input}: the derivative is ${coefficient}, differences of the model give ${numerical}`,
    );
}

function recordOf({ trials, seed, stopped, covariance, notes }: Simulation): SimulationRecord {
  const known = covariance.map((row) => row.map((value) => (Number.isNaN(value) ? null : value)));
  return { trials, seed, stopped, covariance: known, notes };
}

/** The model with one of its outputs only. */
function narrowed(model: MeasurementModel, output: string | undefined): MeasurementModel {
  if (output === undefined) return model;
  if (model.outputs.includes(output)) return { ...model, outputs: [output] };
  throw new InputError(`output: found "${output}", expected one of ${model.outputs.join(', ')}`);
}

function requireTargets({ outputs }: MeasurementModel, targets: readonly BudgetFileTarget[]): void {
  const stray = targets.find(({ output }) => !outputs.includes(output));
  if (stray !== undefined)
    throw new InputError(`target for "${stray.output}", expected one of the outputs ${outputs.join(', ')}`);
}

function outputEvaluation(
  output: string,
  propagation: Propagation,
  { coverageProbability = 0.95, targets = [], actions = [] }: Measurement,
  { simulated, digits }: { readonly simulated: SimulatedOutput | null; readonly digits: number },
): OutputEvaluation {
  const budget = makeBudget(propagation, output, coverageProbability);
  const secondOrder = secondOrderEffect(propagation, budget);
  const uncertain = budget.standardUncertainty > 0 || (simulated?.standardUncertainty ?? 0) > 0;
  const comparison =
    simulated === null || !uncertain ? null : compareMethods(budget, secondOrder, simulated, digits);
  const stated = targets.filter((candidate) => candidate.output === output).map((t) => t.expandedUncertainty);
  const target = stated.length === 0 ? null : Math.min(...stated);
  return {
    budget,
    secondOrder,
    simulated,
    comparison,
    reported: budget.expandedUncertainty > 0 ? reportingLine(budget) : null,
    target: target === null ? null : targetStatement(target, budget, simulated, comparison),
    improvement:
      target === null ? null : whatWouldItTake(propagation, output, target, actions, coverageProbability),
  };
}

function targetStatement(
  target: number,
  budget: Budget,
  simulated: SimulatedOutput | null,
  comparison: MethodComparison | null,
): TargetStatement {
  const differs = simulated !== null && comparison?.outcome === 'differ';
  const expandedUncertainty = differs
    ? Math.max(simulated.estimate - simulated.symmetric.low, simulated.symmetric.high - simulated.estimate)
    : budget.expandedUncertainty;
  const method = differs ? 'simulation' : 'law of propagation';
  return { target, expandedUncertainty, method, met: expandedUncertainty <= target };
}
