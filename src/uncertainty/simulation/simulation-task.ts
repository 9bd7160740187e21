import { InputError } from '../../errors.js';
import { evaluateProgram } from '../expression/evaluate-program.js';
import type { Correlation, InputQuantity } from '../input-quantity.js';
import type { MeasurementModel } from '../measurement-model.js';
import { checkInputs } from '../model/check-inputs.js';
import { checkUnits } from '../model/check-units.js';
import { type CompiledModel, compileModel } from '../model/compile-model.js';
import { type IndexedCorrelation, indexCorrelations } from '../model/correlation-matrix.js';
import { requireDivisorsApartFromZero } from '../propagation/require-divisors.js';
import { effectOfDegreesOfFreedom } from './effect-of-degrees-of-freedom.js';

/** What is simulated, as plain data that can be sent to another thread. */
export interface SimulationTask {
  readonly model: MeasurementModel;
  readonly inputs: readonly InputQuantity[];
  readonly correlations: readonly Correlation[];
  readonly seed: number;
}

/** A task made ready. */
export interface CheckedTask {
  readonly task: SimulationTask;
  readonly ready: CompiledModel;
  /** The inputs in the order of the program. */
  readonly inputs: readonly InputQuantity[];
  readonly correlations: readonly IndexedCorrelation[];
}

/**
 * Checks a task as the law of propagation does.
 *
 * @param isAdaptive whether it goes on until standard uncertainties are stable
 * @throws InputError as `propagate`; an adaptive simulation of an output that has no standard uncertainty
 */
export function checkTask(task: SimulationTask, isAdaptive: boolean): CheckedTask {
  const ready = compileModel(task.model);
  checkInputs(ready, task.inputs);
  checkUnits(ready, task.inputs);
  const { program } = ready;
  const inputs = program.inputs.map((name) => task.inputs.find((input) => input.name === name)!);
  const correlations = indexCorrelations(inputs, task.correlations);
  const values = evaluateProgram(
    program,
    inputs.map((input) => input.estimate),
  );
  const order = inputs.map((_, i) => i);
  requireDivisorsApartFromZero(program, values, order, inputs, correlations);
  if (isAdaptive) requireVariances(ready, inputs);
  return { task, ready, inputs, correlations };
}

function requireVariances(
  { model, program, outputEquations }: CompiledModel,
  inputs: readonly InputQuantity[],
): void {
  for (const equation of outputEquations) {
    const { hasVariance, notes } = effectOfDegreesOfFreedom(program, inputs, program.results[equation]!);
    if (hasVariance) continue;
    throw new InputError(
      `output "${model.equations[equation]!.name}" of an adaptive simulation: ${notes.at(-1)}; expected a fixed number ` +
        'of trials',
    );
  }
}
