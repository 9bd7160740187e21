import { InputError } from '../../errors.js';
import { directionalGradient } from '../expression/directional-gradient.js';
import { evaluateProgram } from '../expression/evaluate-program.js';
import type { Correlation, InputQuantity } from '../input-quantity.js';
import type { MeasurementModel } from '../measurement-model.js';
import { checkInputs } from '../model/check-inputs.js';
import { choleskyFactor } from '../model/cholesky.js';
import { type CompiledModel, compileModel } from '../model/compile-model.js';
import {
  correlatedBlocks,
  correlationMatrix,
  type IndexedCorrelation,
  indexCorrelations,
} from '../model/correlation-matrix.js';

/** Part of the output's variance that a pair of inputs adds beyond first order. */
export interface SecondOrderPair {
  readonly first: string;
  readonly second: string;
  /** In the squared unit of the output; may be negative. */
  readonly variance: number;
}

/** Standard uncertainty of an output with the terms of next higher order. */
export interface SecondOrderTerms {
  readonly output: string;
  readonly estimate: number;
  readonly firstOrderUncertainty: number;
  readonly standardUncertainty: number;
  /** ½·Σ ∂²f/∂xᵢ∂xⱼ·cov(xᵢ, xⱼ): how far the mean of the output lies from the estimate. */
  readonly meanShift: number;
  /** Independent inputs only: pairs with a term, the largest first. Empty where inputs are correlated. */
  readonly pairs: readonly SecondOrderPair[];
  readonly notes: readonly string[];
}

/**
 * Second-order terms of the law of propagation, for models that bend within the uncertainty of their inputs:
 * Σᵢⱼ [½(∂²f/∂xᵢ∂xⱼ)² + ∂f/∂xᵢ·∂³f/∂xᵢ∂xⱼ²]·u²(xᵢ)·u²(xⱼ), exact derivatives. The terms hold for inputs that are close to
 * normal; correlated inputs are taken along independent directions, which is the same formula for a joint normal
 * distribution.
 *
 * @param outputName one of the model's outputs
 * @throws InputError as `propagate`; a total variance below 0, where only simulation helps
 * @see JCGM 100:2008, 5.1.2 note and H.1.7
 */
export function secondOrderTerms(
  model: MeasurementModel | CompiledModel,
  inputs: readonly InputQuantity[],
  correlations: readonly Correlation[],
  outputName: string,
): SecondOrderTerms {
  const ready = 'program' in model ? model : compileModel(model);
  checkInputs(ready, inputs);
  const pairs = indexCorrelations(inputs, correlations);
  const equation = ready.model.equations.findIndex(({ name }) => name === outputName);
  if (equation < 0) throw new InputError(`output "${outputName}" is no equation of "${ready.model.title}"`);
  const order = ready.program.inputs.map((name) => inputs.findIndex((input) => input.name === name));
  const estimates = order.map((i) => inputs[i]!.estimate);
  const slot = ready.program.results[equation]!;
  const estimate = evaluateProgram(ready.program, estimates)[slot]!;
  const moments = secondOrderMoments(directions(inputs, pairs), (direction) => {
    const along = directionalGradient(
      ready.program,
      estimates,
      order.map((i) => direction[i]!),
      slot,
    );
    return restored(along, order, inputs.length);
  });
  const total = moments.firstOrder + moments.added;
  if (total < 0) {
    throw new InputError(
      `${outputName}: the variance with second-order terms is ${total.toPrecision(3)}; the expansion does not hold ` +
        'here, expected simulation instead',
    );
  }
  const correlated = pairs.some(({ coefficient }) => coefficient !== 0);
  return {
    output: outputName,
    estimate,
    firstOrderUncertainty: Math.sqrt(moments.firstOrder),
    standardUncertainty: Math.sqrt(total),
    meanShift: moments.meanShift,
    pairs: correlated ? [] : namedPairs(moments.terms, inputs),
    notes: correlated ? ['inputs are correlated: the terms are not told apart by pairs of inputs'] : [],
  };
}

/** Independent directions in the space of inputs, each of one standard uncertainty: columns of a root of the covariance. */
function directions(inputs: readonly InputQuantity[], pairs: readonly IndexedCorrelation[]): number[][] {
  const columns = inputs.map((input, i) => inputs.map((_, j) => (i === j ? input.standardUncertainty : 0)));
  for (const block of correlatedBlocks(pairs)) {
    const factor = choleskyFactor(correlationMatrix(block, pairs));
    block.forEach((i, column) => {
      block.forEach((j, row) => {
        columns[i]![j] = factor[row]![column]! * inputs[j]!.standardUncertainty;
      });
    });
  }
  return columns;
}

interface Along {
  readonly gradient: readonly number[];
  readonly first: readonly number[];
  readonly second: readonly number[];
}

/** Components in the order of the inputs given, not of the program. */
function restored(along: Along, order: readonly number[], count: number): Along {
  const put = (components: readonly number[]): number[] => {
    const row = new Array<number>(count).fill(0);
    order.forEach((i, k) => {
      row[i] = components[k]!;
    });
    return row;
  };
  return { gradient: put(along.gradient), first: put(along.first), second: put(along.second) };
}

interface Moments {
  readonly firstOrder: number;
  readonly added: number;
  readonly meanShift: number;
  /** Term of each ordered pair of directions. */
  readonly terms: readonly (readonly number[])[];
}

function secondOrderMoments(columns: readonly number[][], along: (direction: number[]) => Along): Moments {
  const dot = (a: readonly number[], b: readonly number[]): number =>
    a.reduce((sum, component, i) => sum + component * b[i]!, 0);
  const runs = columns.map(along);
  const slopes = columns.map((column, m) => dot(runs[m]!.gradient, column));
  const terms = columns.map((column, m) =>
    columns.map((_, n) => 0.5 * dot(runs[n]!.first, column) ** 2 + slopes[m]! * dot(runs[n]!.second, column)),
  );
  return {
    firstOrder: dot(slopes, slopes),
    added: terms.flat().reduce((sum, term) => sum + term, 0),
    meanShift: columns.reduce((sum, column, m) => sum + 0.5 * dot(runs[m]!.first, column), 0),
    terms,
  };
}

function namedPairs(terms: Moments['terms'], inputs: readonly InputQuantity[]): SecondOrderPair[] {
  const pairs = inputs.flatMap((first, i) =>
    inputs.slice(i).map((second, offset) => {
      const j = i + offset;
      const variance = i === j ? terms[i]![i]! : terms[i]![j]! + terms[j]![i]!;
      return { first: first.name, second: second.name, variance };
    }),
  );
  return pairs
    .filter(({ variance }) => variance !== 0)
    .sort((a, b) => Math.abs(b.variance) - Math.abs(a.variance));
}
