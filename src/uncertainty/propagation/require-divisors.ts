import { InputError } from '../../errors.js';
import { isPositive, reachOf } from '../distributions/distribution-parameters.js';
import { gradientOf, placeOf } from '../expression/evaluate-program.js';
import { partialByFirst, partialBySecond } from '../expression/operate.js';
import type { Operation, Program } from '../expression/program.js';
import type { InputQuantity } from '../input-quantity.js';
import type { IndexedCorrelation } from '../model/correlation-matrix.js';
import { varianceAlong } from './variance-along.js';

/**
 * Refuses a model that divides by, or takes the logarithm of, a quantity whose interval holds 0: the result then has no
 * variance, whatever a derivative at the estimate says. The interval is the smaller of value ± 3u and the sum of the
 * reaches of what the quantity is made of, to first order.
 *
 * @param order position in `inputs` of each input of the program
 * @throws InputError equation, position, value and reach of the divisor
 */
export function requireDivisorsApartFromZero(
  program: Program,
  values: Float64Array,
  order: readonly number[],
  inputs: readonly InputQuantity[],
  correlations: readonly IndexedCorrelation[],
): void {
  const bounds = reachBounds(program, values, order, inputs);
  for (const operation of program.operations) {
    const divisor = divisorSlot(program, operation);
    if (divisor < 0 || bounds[divisor]! < Math.abs(values[divisor]!)) continue;
    if (divisor < program.inputs.length && isPositive(inputs[order[divisor]!]!.distribution)) continue;
    const gradient = new Float64Array(inputs.length);
    gradientOf(program, values, divisor).forEach((slope, k) => {
      gradient[order[k]!] = slope;
    });
    const reach = reachOfQuantity(gradient, inputs, correlations);
    const value = values[divisor]!;
    if (reach < Math.abs(value)) continue;
    const act = operation.name === 'function' ? `takes ${operation.functionName} of` : 'divides by';
    throw new InputError(
      `${placeOf(operation)}: the formula ${act} a quantity of ${value} that reaches ${reach.toPrecision(3)} to both ` +
        'sides, so that its interval holds 0; expected a quantity clearly apart from 0',
    );
  }
}

/** Bound of the reach of every slot in one pass: parts add up as if all moved it one way. */
function reachBounds(
  program: Program,
  values: Float64Array,
  order: readonly number[],
  inputs: readonly InputQuantity[],
): Float64Array {
  const bounds = new Float64Array(program.slots);
  const base = program.inputs.length + program.constants.length;
  order.forEach((i, slot) => {
    bounds[slot] = reachOf(inputs[i]!.distribution, inputs[i]!.standardUncertainty);
  });
  program.operations.forEach((operation, i) => {
    const { first, second } = operation;
    const a = values[first]!;
    const b = second < 0 ? 0 : values[second]!;
    const value = values[base + i]!;
    let bound = Math.abs(partialByFirst(operation, a, b, value)) * bounds[first]!;
    if (second >= 0 && bounds[second]! > 0) {
      bound += Math.abs(partialBySecond(operation, a, b, value)) * bounds[second]!;
    }
    bounds[base + i] = bound;
  });
  return bounds;
}

const logarithms = new Set(['log', 'log10', 'log2']);

function divisorSlot(program: Program, operation: Operation): number {
  const { name, first, second, functionName } = operation;
  const variable = (slot: number): boolean =>
    slot < program.inputs.length || slot >= program.inputs.length + program.constants.length;
  if (name === 'divide') return variable(second) ? second : -1;
  if (name === 'function') return logarithms.has(functionName) ? first : -1;
  if (name !== 'power' || variable(second) || !variable(first)) return -1;
  return program.constants[second - program.inputs.length]! < 0 ? first : -1;
}

function reachOfQuantity(
  gradient: Float64Array,
  inputs: readonly InputQuantity[],
  correlations: readonly IndexedCorrelation[],
): number {
  let sum = 0;
  for (let i = 0; i < inputs.length; i++) {
    if (gradient[i] === 0) continue;
    const { distribution, standardUncertainty } = inputs[i]!;
    sum += Math.abs(gradient[i]!) * reachOf(distribution, standardUncertainty);
  }
  return Math.min(sum, 3 * Math.sqrt(Math.max(0, varianceAlong(gradient, gradient, inputs, correlations))));
}
