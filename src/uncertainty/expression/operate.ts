import type { Operation } from './program.js';

/** Value of one operation on two numbers; `b` is not read by a sign or a function. */
export function applyOperation(operation: Operation, a: number, b: number): number {
  switch (operation.name) {
    case 'add':
      return a + b;
    case 'subtract':
      return a - b;
    case 'multiply':
      return a * b;
    case 'divide':
      return a / b;
    case 'power':
      return a ** b;
    case 'negate':
      return -a;
    case 'function':
      return operation.rule!.value(a);
  }
}

/** Partial derivative of an operation by its first operand, given both operands and its value. */
export function partialByFirst(operation: Operation, a: number, b: number, value: number): number {
  switch (operation.name) {
    case 'add':
    case 'subtract':
      return 1;
    case 'multiply':
      return b;
    case 'divide':
      return 1 / b;
    case 'power':
      return b === 0 ? 0 : b * a ** (b - 1);
    case 'negate':
      return -1;
    case 'function':
      return operation.rule!.first(a, value);
  }
}

/** Partial derivative of an operation by its second operand, given both operands and its value. */
export function partialBySecond(operation: Operation, a: number, b: number, value: number): number {
  switch (operation.name) {
    case 'add':
      return 1;
    case 'subtract':
      return -1;
    case 'multiply':
      return a;
    case 'divide':
      return -value / b;
    case 'power':
      return a === 0 && b > 0 ? 0 : value * Math.log(a);
    default:
      return 0;
  }
}
