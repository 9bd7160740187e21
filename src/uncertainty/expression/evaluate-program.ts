import { InputError } from '../../errors.js';
import { applyOperation, partialByFirst, partialBySecond } from './operate.js';
import type { Operation, Program } from './program.js';

/** Values of all slots of a program at one point. */
export type SlotValues = Float64Array;

/**
 * Values of all slots at given inputs.
 *
 * @param inputs one value an input, in the order of `program.inputs`
 * @throws InputError an operation without a finite value, with equation, position and operands
 */
export function evaluateProgram(program: Program, inputs: ArrayLike<number>): Float64Array {
  const { operations, constants } = program;
  const values = new Float64Array(program.slots);
  const count = program.inputs.length;
  for (let i = 0; i < count; i++) values[i] = inputs[i]!;
  for (let i = 0; i < constants.length; i++) values[count + i] = constants[i]!;
  const base = count + constants.length;
  for (let i = 0; i < operations.length; i++) {
    const operation = operations[i]!;
    const b = operation.second < 0 ? 0 : values[operation.second]!;
    const value = applyOperation(operation, values[operation.first]!, b);
    if (!Number.isFinite(value)) refuseValue(operation, values[operation.first]!, b, value);
    values[base + i] = value;
  }
  return values;
}

/**
 * Gradient of one slot by all inputs, by the chain rule from the result back (exact up to rounding).
 *
 * @param values what `evaluateProgram` returned
 * @param result slot of the quantity
 * @throws InputError a derivative that does not exist or is not finite, such as that of sqrt at 0
 */
export function gradientOf(program: Program, values: Float64Array, result: number): Float64Array {
  const { operations } = program;
  const count = program.inputs.length;
  const base = count + program.constants.length;
  const adjoint = new Float64Array(program.slots);
  adjoint[result] = 1;
  for (let i = result - base; i >= 0; i--) {
    const weight = adjoint[base + i]!;
    if (weight === 0) continue;
    const operation = operations[i]!;
    const { first, second } = operation;
    const a = values[first]!;
    const b = second < 0 ? 0 : values[second]!;
    const value = values[base + i]!;
    if (isVariable(first, count, base)) {
      adjoint[first]! += weight * finite(partialByFirst(operation, a, b, value), operation, a, b);
    }
    if (second >= 0 && isVariable(second, count, base)) {
      adjoint[second]! += weight * finite(partialBySecond(operation, a, b, value), operation, a, b);
    }
  }
  return adjoint.subarray(0, count);
}

function isVariable(slot: number, inputs: number, base: number): boolean {
  return slot < inputs || slot >= base;
}

function finite(partial: number, operation: Operation, a: number, b: number): number {
  if (Number.isFinite(partial)) return partial;
  throw new InputError(
    `${placeOf(operation)}: ${describeOperation(operation, a, b)} has no finite derivative there`,
  );
}

function refuseValue(operation: Operation, a: number, b: number, value: number): never {
  const found = describeOperation(operation, a, b);
  throw new InputError(`${placeOf(operation)}: found ${found} = ${value}; expected a finite number`);
}

/** Where an operation stands in the model, in words. */
export function placeOf(operation: Operation): string {
  return `equation "${operation.equation}", position ${operation.position}`;
}

const signs = { add: '+', subtract: '-', multiply: '*', divide: '/', power: '^' } as const;

function describeOperation(operation: Operation, a: number, b: number): string {
  const { name } = operation;
  if (name === 'function') return `${operation.functionName}(${a})`;
  return name === 'negate' ? `-(${a})` : `${a} ${signs[name]} ${b}`;
}
