import { functionRule } from './functions.js';
import { parseExpression } from './parse.js';
import type { BinaryOperator, Expression } from './syntax-tree.js';

/**
 * Partial derivative of a formula by one of its names, as a formula with sums and products of 0 and 1 left out. For
 * reading and printing; `gradientOf` computes derivatives.
 *
 * @throws ExpressionError never for a tree that `parseExpression` made
 * @example
 * const a = { kind: 'name', name: 'a', position: 1 };
 * derivativeOf({ kind: 'operation', operator: '+', left: a, right: a, position: 1 }, 'a').kind // => 'operation'
 */
export function derivativeOf(tree: Expression, name: string): Expression {
  switch (tree.kind) {
    case 'number':
      return number(0);
    case 'name':
      return number(tree.name === name ? 1 : 0);
    case 'negation':
      return negative(derivativeOf(tree.operand, name));
    case 'function': {
      const inner = derivativeOf(tree.operand, name);
      if (isNumber(inner, 0)) return inner;
      const outer = parseExpression(functionRule(tree.name)!.derivative);
      return product(substitute(outer, 'x', tree.operand), inner);
    }
    case 'operation':
      return operationDerivative(tree, name);
  }
}

function operationDerivative(tree: Expression & { kind: 'operation' }, name: string): Expression {
  const { operator, left, right } = tree;
  const [byLeft, byRight] = [derivativeOf(left, name), derivativeOf(right, name)];
  if (operator === '+') return sum(byLeft, byRight);
  if (operator === '-') return difference(byLeft, byRight);
  if (operator === '*') return sum(product(byLeft, right), product(left, byRight));
  if (operator === '/') {
    if (isNumber(byRight, 0)) return quotient(byLeft, right);
    return quotient(difference(product(byLeft, right), product(left, byRight)), power(right, number(2)));
  }
  const lowered = right.kind === 'number' ? number(right.value - 1) : difference(right, number(1));
  const byBase = isNumber(byLeft, 0) ? byLeft : product(product(right, power(left, lowered)), byLeft);
  const byExponent = isNumber(byRight, 0) ? byRight : product(product(tree, call('log', left)), byRight);
  return sum(byBase, byExponent);
}

/** The tree with a name replaced by another tree. */
export function substitute(tree: Expression, name: string, by: Expression): Expression {
  switch (tree.kind) {
    case 'number':
      return tree;
    case 'name':
      return tree.name === name ? by : tree;
    case 'operation':
      return { ...tree, left: substitute(tree.left, name, by), right: substitute(tree.right, name, by) };
    default:
      return { ...tree, operand: substitute(tree.operand, name, by) };
  }
}

function number(value: number): Expression {
  return { kind: 'number', value, position: 0 };
}

function call(name: string, operand: Expression): Expression {
  return { kind: 'function', name, operand, position: 0 };
}

function isNumber(tree: Expression, value: number): boolean {
  return tree.kind === 'number' && tree.value === value;
}

function operation(left: Expression, operator: BinaryOperator, right: Expression): Expression {
  return { kind: 'operation', operator, left, right, position: 0 };
}

function negative(tree: Expression): Expression {
  if (tree.kind === 'number') return number(tree.value === 0 ? 0 : -tree.value);
  return tree.kind === 'negation' ? tree.operand : { kind: 'negation', operand: tree, position: 0 };
}

function sum(left: Expression, right: Expression): Expression {
  if (isNumber(left, 0)) return right;
  if (isNumber(right, 0)) return left;
  return right.kind === 'negation' ? operation(left, '-', right.operand) : operation(left, '+', right);
}

function difference(left: Expression, right: Expression): Expression {
  if (isNumber(right, 0)) return left;
  if (isNumber(left, 0)) return negative(right);
  return right.kind === 'negation' ? operation(left, '+', right.operand) : operation(left, '-', right);
}

function product(left: Expression, right: Expression): Expression {
  if (isNumber(left, 0) || isNumber(right, 0)) return number(0);
  if (isNumber(left, 1)) return right;
  if (isNumber(right, 1)) return left;
  if (isNumber(left, -1)) return negative(right);
  if (left.kind === 'negation') return negative(product(left.operand, right));
  if (right.kind === 'negation') return negative(product(left, right.operand));
  return operation(left, '*', right);
}

function quotient(left: Expression, right: Expression): Expression {
  if (isNumber(left, 0) || isNumber(right, 1)) return left;
  return left.kind === 'negation' ? negative(quotient(left.operand, right)) : operation(left, '/', right);
}

function power(base: Expression, exponent: Expression): Expression {
  if (isNumber(exponent, 0)) return number(1);
  return isNumber(exponent, 1) ? base : operation(base, '^', exponent);
}
