import type { Expression } from './syntax-tree.js';

const strength = { '+': 1, '-': 1, '*': 2, '/': 2, '^': 4 } as const;

/** Strength with which the outermost operation binds: a sum least, a name most. */
function binding(tree: Expression): number {
  if (tree.kind === 'operation') return strength[tree.operator];
  if (tree.kind === 'negation' || (tree.kind === 'number' && tree.value < 0)) return 3;
  return 5;
}

function wrapped(tree: Expression, least: number): string {
  const text = formatExpression(tree);
  return binding(tree) < least ? `(${text})` : text;
}

/**
 * Text of a formula with no more parentheses than it needs; `parseExpression` reads it back to the same tree.
 *
 * @example
 * const a = { kind: 'name', name: 'a', position: 1 };
 * formatExpression({ kind: 'operation', operator: '/', left: a, right: a, position: 1 }) // => 'a / a'
 */
export function formatExpression(tree: Expression): string {
  switch (tree.kind) {
    case 'number':
      return tree.value === Math.PI ? 'pi' : String(tree.value);
    case 'name':
      return tree.name;
    case 'negation':
      return `-${wrapped(tree.operand, 3)}`;
    case 'function':
      return `${tree.name}(${formatExpression(tree.operand)})`;
    case 'operation': {
      const { operator, left, right } = tree;
      const own = strength[operator];
      if (operator === '^') return `${wrapped(left, 5)}^${wrapped(right, 3)}`;
      return `${wrapped(left, own)} ${operator} ${wrapped(right, own + 1)}`;
    }
  }
}
