import type { Operation } from './program.js';

/** A quantity along a line x + t·d as a polynomial in t: value, coefficient of t, coefficient of t². */
export type Jet = readonly [number, number, number];

/** Product of two jets to the second power of t. */
export function multiplyJets(p: Jet, q: Jet): Jet {
  return [p[0] * q[0], p[0] * q[1] + p[1] * q[0], p[0] * q[2] + p[1] * q[1] + p[2] * q[0]];
}

/** Weighted sum p + weight·q. */
export function addJets(p: Jet, q: Jet, weight = 1): Jet {
  return [p[0] + weight * q[0], p[1] + weight * q[1], p[2] + weight * q[2]];
}

/** Quotient of two jets. */
export function divideJets(p: Jet, q: Jet): Jet {
  const first = p[0] / q[0];
  const second = (p[1] - first * q[1]) / q[0];
  return [first, second, (p[2] - first * q[2] - second * q[1]) / q[0]];
}

/** Jet of g(p) from the value and the first two derivatives of g. */
function compose(p: Jet, value: number, first: number, second: number): Jet {
  return [value, first * p[1], first * p[2] + 0.5 * second * p[1] * p[1]];
}

const zero: Jet = [0, 0, 0];
const one: Jet = [1, 0, 0];
const minusOne: Jet = [-1, 0, 0];

function logarithm(p: Jet): Jet {
  return compose(p, Math.log(p[0]), 1 / p[0], -1 / (p[0] * p[0]));
}

/** Jet of p^c with a constant exponent. */
function constantPower(p: Jet, c: number): Jet {
  const at = (order: number): number => {
    let factor = 1;
    for (let k = 0; k < order; k++) factor *= c - k;
    return factor === 0 ? 0 : factor * p[0] ** (c - order);
  };
  return compose(p, at(0), at(1), at(2));
}

function isConstant(q: Jet): boolean {
  return q[1] === 0 && q[2] === 0;
}

function power(p: Jet, q: Jet): Jet {
  if (isConstant(q)) return constantPower(p, q[0]);
  const exponent = multiplyJets(q, logarithm(p));
  const value = p[0] ** q[0];
  return compose(exponent, value, value, value);
}

/** Value of an operation on jets; the second is not read by a sign or a function. */
export function applyToJets(operation: Operation, p: Jet, q: Jet): Jet {
  switch (operation.name) {
    case 'add':
      return addJets(p, q);
    case 'subtract':
      return addJets(p, q, -1);
    case 'multiply':
      return multiplyJets(p, q);
    case 'divide':
      return divideJets(p, q);
    case 'power':
      return power(p, q);
    case 'negate':
      return addJets(zero, p, -1);
    case 'function': {
      const rule = operation.rule!;
      const value = rule.value(p[0]);
      return compose(p, value, rule.first(p[0], value), rule.second(p[0], value));
    }
  }
}

/** Partial derivatives of an operation by its operands, as jets along the same line; `value` is its own jet. */
export function partialJets(operation: Operation, p: Jet, q: Jet, value: Jet): readonly [Jet, Jet] {
  switch (operation.name) {
    case 'add':
      return [one, one];
    case 'subtract':
      return [one, minusOne];
    case 'multiply':
      return [q, p];
    case 'divide': {
      const byFirst = divideJets(one, q);
      return [byFirst, addJets(zero, multiplyJets(value, byFirst), -1)];
    }
    case 'power': {
      const byExponent = p[0] > 0 ? multiplyJets(value, logarithm(p)) : zero;
      const lowered = power(p, addJets(q, minusOne));
      return [q[0] === 0 && isConstant(q) ? zero : multiplyJets(q, lowered), byExponent];
    }
    case 'negate':
      return [minusOne, zero];
    case 'function': {
      const rule = operation.rule!;
      const first = rule.first(p[0], value[0]);
      return [compose(p, first, rule.second(p[0], value[0]), rule.third(p[0], value[0])), zero];
    }
  }
}
