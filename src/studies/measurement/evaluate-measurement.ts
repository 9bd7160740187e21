import { InputError } from '../../errors.js';
import type { Budget } from '../../uncertainty/budget.js';
import type { BudgetFile, BudgetFileTarget } from '../../uncertainty/budget-file/budget-file.js';
import { inputsOfBudgetFile } from '../../uncertainty/budget-file/inputs-of-budget-file.js';
import type { Correlation, InputQuantity } from '../../uncertainty/input-quantity.js';
import { makeBudget } from '../../uncertainty/make-budget.js';
import type { MeasurementModel } from '../../uncertainty/measurement-model.js';
import { compileModel } from '../../uncertainty/model/compile-model.js';
import { type Propagation, propagate } from '../../uncertainty/propagate.js';
import { numericalSensitivities } from '../../uncertainty/propagation/numerical-sensitivities.js';
import { type ReportingLine, reportingLine } from '../../uncertainty/reporting-line.js';
import {
  type ImprovementAction,
  type WhatWouldItTake,
  whatWouldItTake,
} from '../../uncertainty/what-would-it-take.js';
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
}

/** Whether the expanded uncertainty is within the target. */
export interface TargetStatement {
  readonly target: number;
  /** The expanded uncertainty compared with it. */
  readonly expandedUncertainty: number;
  readonly met: boolean;
}

/** What is found for one output quantity. */
export interface OutputEvaluation {
  readonly budget: Budget;
  readonly secondOrder: SecondOrderEffect;
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
  readonly notes: readonly string[];
}

/** The measurement that a budget file describes. */
export function measurementOf(file: BudgetFile): Measurement {
  const { title, equations, outputs, coverageProbability, targets } = file;
  return {
    model: { title, equations, outputs },
    ...inputsOfBudgetFile(file),
    ...(coverageProbability === undefined ? {} : { coverageProbability }),
    ...(targets === undefined ? {} : { targets }),
  };
}

/**
 * Evaluates a measurement: budgets by the law of propagation, what second-order terms change, the verdict against the
 * target uncertainty and what it would take to meet it. Every sensitivity coefficient is checked against differences.
 *
 * @throws InputError as `propagate`; an output or a target that the model does not have
 * @see JCGM 100:2008, clauses 5 to 7
 */
export function evaluateMeasurement(
  measurement: Measurement,
  options: MeasurementOptions = {},
): MeasurementEvaluation {
  const { inputs, correlations = [], targets = [] } = measurement;
  const model = narrowed(measurement.model, options.output);
  requireTargets(measurement.model, targets);
  const ready = compileModel(model);
  const propagation = propagate(ready, inputs, correlations);
  const wrong = numericalSensitivities(ready, inputs).filter(({ agrees }) => !agrees);
  return {
    propagation,
    outputs: model.outputs.map((output) => outputEvaluation(output, propagation, measurement)),
    notes: wrong.map(
      ({ output, input, coefficient, numerical }) =>
        `sensitivity of ${output} to ${input}: the derivative is ${coefficient}, differences of the model give ${numerical}`,
    ),
  };
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
  measurement: Measurement,
): OutputEvaluation {
  const { coverageProbability = 0.95, targets = [], actions = [] } = measurement;
  const budget = makeBudget(propagation, output, coverageProbability);
  const { expandedUncertainty } = budget;
  const stated = targets.filter((candidate) => candidate.output === output).map((t) => t.expandedUncertainty);
  const target = stated.length === 0 ? null : Math.min(...stated);
  return {
    budget,
    secondOrder: secondOrderEffect(propagation, budget),
    reported: expandedUncertainty > 0 ? reportingLine(budget) : null,
    target: target === null ? null : { target, expandedUncertainty, met: expandedUncertainty <= target },
    improvement:
      target === null ? null : whatWouldItTake(propagation, output, target, actions, coverageProbability),
  };
}
