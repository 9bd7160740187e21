import type { FunctionRule } from './functions.js';

/** What an operation does: an arithmetic operator on two slots, or a sign or function on one (`second` is then -1). */
export type OperationName = 'add' | 'subtract' | 'multiply' | 'divide' | 'power' | 'negate' | 'function';

/**
 * One operation of a program. Operands are slot numbers; the result goes to the slot of the operation.
 * `equation` and `position` say which part of the model it computes, for messages.
 */
export interface Operation {
  readonly name: OperationName;
  readonly rule: FunctionRule | undefined;
  readonly functionName: string;
  readonly first: number;
  readonly second: number;
  readonly equation: string;
  readonly position: number;
}

/**
 * A model as a list of operations over numbered slots: first one slot an input, then one a constant, then one an
 * operation, in order of use. Each slot may hold a number, or a block of trials as a typed array: the list is the same.
 * Equal subexpressions share one operation, operations on constants are done beforehand, whole powers up to 4 and
 * halves are products, quotients and square roots.
 */
export interface Program {
  /** Names of the inputs, in order of first use; slot = index. */
  readonly inputs: readonly string[];
  /** Values of the constant slots; slot = inputs.length + index. */
  readonly constants: readonly number[];
  /** slot = inputs.length + constants.length + index. */
  readonly operations: readonly Operation[];
  /** Slot of each equation's value, in the order of the equations. */
  readonly results: readonly number[];
  readonly slots: number;
}
