import type { Operation } from '../../expression/program.js';
import {
  addColumns,
  addConstant,
  multiplyColumns,
  multiplyConstant,
  subtractColumns,
  subtractFrom,
} from './columns.js';

/** A column of trials, or the one value of a constant. */
export type Operand = Float64Array | number;

/**
 * One operation on whole blocks, made ready for its columns. The result may stand in the column of an operand.
 *
 * @param second not read by a sign or a function
 */
export function blockOperation(
  operation: Operation,
  first: Operand,
  second: Operand,
  out: Float64Array,
): () => void {
  switch (operation.name) {
    case 'add':
      if (typeof first === 'number') return () => addConstant(second as Float64Array, first, out);
      return typeof second === 'number'
        ? () => addConstant(first, second, out)
        : () => addColumns(first, second, out);
    case 'subtract':
      if (typeof first === 'number') return () => subtractFrom(first, second as Float64Array, out);
      return typeof second === 'number'
        ? () => addConstant(first, -second, out)
        : () => subtractColumns(first, second, out);
    case 'multiply':
      if (typeof first === 'number') return () => multiplyConstant(second as Float64Array, first, out);
      return typeof second === 'number'
        ? () => multiplyConstant(first, second, out)
        : () => multiplyColumns(first, second, out);
    case 'divide':
      if (typeof first === 'number') return () => divideInto(first, second as Float64Array, out);
      return typeof second === 'number'
        ? () => divideConstant(first, second, out)
        : () => divide(first, second, out);
    case 'power':
      if (typeof first === 'number') return () => powerOf(first, second as Float64Array, out);
      return typeof second === 'number' ? () => powerTo(first, second, out) : () => power(first, second, out);
    case 'negate':
      return () => negate(first as Float64Array, out);
    case 'function':
      return functionOperation(operation, first as Float64Array, out);
  }
}

function functionOperation(operation: Operation, x: Float64Array, out: Float64Array): () => void {
  switch (operation.functionName) {
    case 'sqrt':
      return () => squareRoot(x, out);
    case 'exp':
      return () => exponential(x, out);
    case 'log':
      return () => logarithm(x, out);
    default: {
      const { value } = operation.rule!;
      return () => map(value, x, out);
    }
  }
}

function divide(a: Float64Array, b: Float64Array, out: Float64Array): void {
  for (let i = 0; i < out.length; i++) out[i] = a[i]! / b[i]!;
}

function divideConstant(a: Float64Array, b: number, out: Float64Array): void {
  for (let i = 0; i < out.length; i++) out[i] = a[i]! / b;
}

function divideInto(a: number, b: Float64Array, out: Float64Array): void {
  for (let i = 0; i < out.length; i++) out[i] = a / b[i]!;
}

function power(a: Float64Array, b: Float64Array, out: Float64Array): void {
  for (let i = 0; i < out.length; i++) out[i] = a[i]! ** b[i]!;
}

function powerTo(a: Float64Array, b: number, out: Float64Array): void {
  for (let i = 0; i < out.length; i++) out[i] = a[i]! ** b;
}

function powerOf(a: number, b: Float64Array, out: Float64Array): void {
  for (let i = 0; i < out.length; i++) out[i] = a ** b[i]!;
}

function negate(a: Float64Array, out: Float64Array): void {
  for (let i = 0; i < out.length; i++) out[i] = -a[i]!;
}

function squareRoot(a: Float64Array, out: Float64Array): void {
  for (let i = 0; i < out.length; i++) out[i] = Math.sqrt(a[i]!);
}

function exponential(a: Float64Array, out: Float64Array): void {
  for (let i = 0; i < out.length; i++) out[i] = Math.exp(a[i]!);
}

function logarithm(a: Float64Array, out: Float64Array): void {
  for (let i = 0; i < out.length; i++) out[i] = Math.log(a[i]!);
}

function map(value: (x: number) => number, a: Float64Array, out: Float64Array): void {
  for (let i = 0; i < out.length; i++) out[i] = value(a[i]!);
}
