import { formatSignificant } from '../../quantities/rounding.js';
import type { BinaryOperator, Expression } from '../../uncertainty/expression/syntax-tree.js';
import { escapeHtml } from '../html/escape.js';

/** How tightly each operator binds; what stands looser than its place asks for is put in parentheses. */
const binding: Readonly<Record<BinaryOperator, number>> = { '+': 1, '-': 1, '*': 2, '/': 2, '^': 4 };
const signBinding = 3;
const tightest = 5;

const greek: Readonly<Record<string, string>> = {
  alpha: 'α',
  beta: 'β',
  gamma: 'γ',
  delta: 'δ',
  epsilon: 'ε',
  eta: 'η',
  theta: 'θ',
  lambda: 'λ',
  mu: 'μ',
  nu: 'ν',
  pi: 'π',
  rho: 'ρ',
  sigma: 'σ',
  tau: 'τ',
  phi: 'φ',
  omega: 'ω',
};

function symbol(word: string): string {
  const shown = greek[word] ?? word;
  // A symbol of one letter is set in italics by itself; whole words stand upright.
  const variant = [...shown].length === 1 ? '' : ' mathvariant="normal"';
  return `<mi${variant}>${escapeHtml(shown)}</mi>`;
}

/**
 * A name of a formula as MathML: the part after the first underscore is set below, Greek letters stand for their names.
 *
 * @example
 * nameToMathml('m_p') // => "<msub><mi>m</mi><mi>p</mi></msub>"
 */
export function nameToMathml(name: string): string {
  const [base = '', ...below] = name.split('_');
  if (base === '' || below.length === 0 || below.every((part) => part === '')) return symbol(name);
  return `<msub>${symbol(base)}${symbol(below.join(','))}</msub>`;
}

function numberToMathml(value: number): string {
  const [mantissa = '', power] = formatSignificant(value, 15).split('e');
  const plain = mantissa.includes('.') ? mantissa.replace(/\.?0+$/, '') : mantissa;
  if (power === undefined) return `<mn>${plain}</mn>`;
  const exponent = `<mn>${power.replace('+', '').replace('-', '\u2212')}</mn>`;
  return `<mrow><mn>${plain}</mn><mo>×</mo><msup><mn>10</mn>${exponent}</msup></mrow>`;
}

function bracketed(inner: string): string {
  return `<mrow><mo>(</mo>${inner}<mo>)</mo></mrow>`;
}

function bindingOf(tree: Expression): number {
  if (tree.kind === 'operation') return tree.operator === '/' ? tightest : binding[tree.operator];
  if (tree.kind === 'negation') return signBinding;
  return tightest;
}

function atLeast(tree: Expression, least: number): string {
  const inner = expressionToMathml(tree);
  return bindingOf(tree) < least ? bracketed(inner) : inner;
}

function functionToMathml(name: string, operand: Expression): string {
  const inner = expressionToMathml(operand);
  if (name === 'sqrt') return `<msqrt>${inner}</msqrt>`;
  if (name === 'cbrt') return `<mroot><mrow>${inner}</mrow><mn>3</mn></mroot>`;
  if (name === 'abs') return `<mrow><mo>|</mo>${inner}<mo>|</mo></mrow>`;
  return `<mrow><mi mathvariant="normal">${escapeHtml(name)}</mi><mo>\u2061</mo>${bracketed(inner)}</mrow>`;
}

/** a / b / c is one fraction with b · c below: fractions upon fractions are hard to read. */
function fraction(above: Expression, below: readonly Expression[]): string {
  if (above.kind === 'operation' && above.operator === '/')
    return fraction(above.left, [above.right, ...below]);
  const [only] = below;
  const factors = below.map((factor) => atLeast(factor, binding['*'] + 1)).join('<mo>\u22c5</mo>');
  const denominator = below.length === 1 && only !== undefined ? expressionToMathml(only) : factors;
  return `<mfrac><mrow>${expressionToMathml(above)}</mrow><mrow>${denominator}</mrow></mfrac>`;
}

function operationToMathml(operator: BinaryOperator, left: Expression, right: Expression): string {
  if (operator === '/') return fraction(left, [right]);
  if (operator === '^') {
    // A fraction, sign or function below an exponent could be read as if the exponent stood inside it.
    const simple = left.kind === 'name' || (left.kind === 'number' && bindingOf(left) === tightest);
    const base = simple ? expressionToMathml(left) : bracketed(expressionToMathml(left));
    return `<msup>${base}<mrow>${expressionToMathml(right)}</mrow></msup>`;
  }
  const own = binding[operator];
  const sign = { '+': '+', '-': '\u2212', '*': '\u22c5' }[operator];
  const first = atLeast(left, own);
  const second = atLeast(right, operator === '+' ? own : own + 1);
  return `<mrow>${first}<mo>${sign}</mo>${second}</mrow>`;
}

/**
 * A formula as MathML: quotients as fractions, powers raised, products with a dot, parentheses only where they are
 * needed to read it as it is calculated.
 *
 * @param tree syntax tree of the formula
 * @returns MathML elements, without the outer `math`
 */
export function expressionToMathml(tree: Expression): string {
  switch (tree.kind) {
    case 'number':
      return numberToMathml(tree.value);
    case 'name':
      return nameToMathml(tree.name);
    case 'negation':
      return `<mrow><mo>\u2212</mo>${atLeast(tree.operand, signBinding)}</mrow>`;
    case 'function':
      return functionToMathml(tree.name, tree.operand);
    case 'operation':
      return operationToMathml(tree.operator, tree.left, tree.right);
  }
}
