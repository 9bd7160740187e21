import { evaluateProgram, gradientOf } from './expression/evaluate-program.js';
import type { Correlation, InputQuantity } from './input-quantity.js';
import type { MeasurementModel } from './measurement-model.js';
import { checkInputs } from './model/check-inputs.js';
import { checkUnits } from './model/check-units.js';
import { type CompiledModel, compileModel } from './model/compile-model.js';
import { type IndexedCorrelation, indexCorrelations } from './model/correlation-matrix.js';
import { effectiveDegreesOfFreedom, independentSources } from './propagation/effective-degrees-of-freedom.js';
import { requireDivisorsApartFromZero } from './propagation/require-divisors.js';
import { varianceAlong } from './propagation/variance-along.js';

/** An output quantity with its standard uncertainty. */
export interface OutputQuantity {
  readonly name: string;
  readonly description: string;
  readonly unit: string;
  readonly estimate: number;
  readonly standardUncertainty: number;
  /** `Infinity` where no part of the uncertainty has a limited number. */
  readonly effectiveDegreesOfFreedom: number;
  /** Sensitivity coefficient of each input by its name, in unit of output per unit of input. */
  readonly sensitivities: Readonly<Record<string, number>>;
}

/** Result of the law of propagation of uncertainty. */
export interface Propagation {
  readonly model: MeasurementModel;
  /** In the order of `model.outputs`. */
  readonly outputs: readonly OutputQuantity[];
  /** Covariance matrix of the outputs, in their order. */
  readonly covariance: readonly (readonly number[])[];
  readonly inputs: readonly InputQuantity[];
  readonly correlations: readonly Correlation[];
  readonly notes: readonly string[];
}

/**
 * Law of propagation of uncertainty, first order: estimates, standard uncertainties, degrees of freedom and covariance
 * of the outputs of a measurement model.
 *
 * Not for models that bend within the uncertainty of an input: see `secondOrderTerms` and simulation.
 *
 * @param model a measurement model, or what `compileModel` made of it; a model object is compiled once
 * @param inputs every quantity that the equations name and no other
 * @param correlations pairs with a correlation coefficient other than 0
 * @throws InputError inputs that do not fit the model, units that do not fit each other, impossible uncertainties or
 * correlations, a divisor whose interval holds 0, no finite value
 * @see JCGM 100:2008, 5.1.2 and 5.2.2; several outputs: JCGM 102:2011, 6.2; degrees of freedom: JCGM 100:2008, G.4.1,
 * taken over independent sources
 */
export function propagate(
  model: MeasurementModel | CompiledModel,
  inputs: readonly InputQuantity[],
  correlations: readonly Correlation[] = [],
): Propagation {
  const ready = 'program' in model ? model : compileModel(model);
  checkInputs(ready, inputs);
  checkUnits(ready, inputs);
  const pairs = indexCorrelations(inputs, correlations);
  const gradients = outputGradients(ready, inputs, pairs);
  const sources = independentSources(inputs, pairs);
  const notes: string[] = [...sources.notes];
  const covariance = gradients.rows.map((row, i) =>
    gradients.rows.map((other, j) => (j < i ? 0 : varianceAlong(row, other, inputs, pairs))),
  );
  const outputs = gradients.rows.map((row, i): OutputQuantity => {
    for (let j = 0; j < i; j++) covariance[i]![j] = covariance[j]![i]!;
    const equation = ready.model.equations[ready.outputEquations[i]!]!;
    const variance = Math.max(0, covariance[i]![i]!);
    if (variance === 0) notes.push(noUncertainty(equation.name));
    return {
      name: equation.name,
      description: equation.description,
      unit: equation.unit,
      estimate: gradients.estimates[i]!,
      standardUncertainty: Math.sqrt(variance),
      effectiveDegreesOfFreedom: effectiveDegreesOfFreedom(row, inputs, sources),
      sensitivities: Object.fromEntries(inputs.map((input, k) => [input.name, row[k]!])),
    };
  });
  return { model: ready.model, outputs, covariance, inputs, correlations, notes };
}

interface Gradients {
  readonly estimates: number[];
  /** One row an output, one column an input in the order of the inputs given. */
  readonly rows: Float64Array[];
}

function outputGradients(
  ready: CompiledModel,
  inputs: readonly InputQuantity[],
  correlations: readonly IndexedCorrelation[],
): Gradients {
  const { program } = ready;
  const at = new Map(inputs.map((input, i) => [input.name, i]));
  const order = program.inputs.map((name) => at.get(name)!);
  const values = evaluateProgram(
    program,
    order.map((i) => inputs[i]!.estimate),
  );
  requireDivisorsApartFromZero(program, values, order, inputs, correlations);
  const slots = ready.outputEquations.map((equation) => program.results[equation]!);
  const rows = slots.map((slot) => {
    const gradient = gradientOf(program, values, slot);
    const row = new Float64Array(inputs.length);
    for (let k = 0; k < order.length; k++) row[order[k]!] = gradient[k]!;
    return row;
  });
  return { estimates: slots.map((slot) => values[slot]!), rows };
}

function noUncertainty(output: string): string {
  return (
    `${output}: the first-order standard uncertainty is 0; where a sensitivity coefficient vanishes at the ` +
    'estimate, second-order terms or simulation show what is left'
  );
}
