import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expressionToMathml, nameToMathml } from '../../../src/report/equation/expression-to-mathml.js';
import { parseExpression } from '../../../src/uncertainty/expression/parse.js';
import type { Expression } from '../../../src/uncertainty/expression/syntax-tree.js';
import { htmlElements } from '../../support/html-elements.js';

const set = (text: string): string => expressionToMathml(parseExpression(text));

/** What a reader takes the printed formula to mean, written in the syntax of formulas again. */
function readBack(mathml: string): string {
  let rest = mathml;
  const take = (pattern: RegExp): string | undefined => {
    const found = pattern.exec(rest)?.[0];
    if (found !== undefined) rest = rest.slice(found.length);
    return found;
  };
  const element = (): string => {
    const tag = take(/^<(\w+)[^>]*>/)?.match(/\w+/)?.[0] ?? '';
    const leaf = take(/^[^<]+/);
    const parts: string[] = [];
    while (!rest.startsWith('</')) parts.push(element());
    take(/^<\/\w+>/);
    if (leaf !== undefined) return { '\u2212': '-', '\u22c5': '*', '\u2061': '' }[leaf] ?? leaf;
    const [first = '', second = ''] = parts;
    if (tag === 'msub') return `${first}_${second}`;
    if (tag === 'mfrac') return `((${first})/(${second}))`;
    if (tag === 'msup') return `${first}^(${second})`;
    if (tag === 'msqrt') return `sqrt(${first})`;
    return parts.join('');
  };
  return element();
}

/** Meaning of a formula without the places of its characters. */
const meaning = (tree: Expression): unknown =>
  JSON.parse(JSON.stringify(tree, (key, value: unknown) => (key === 'position' ? undefined : value)));

const leaf = fc.oneof(fc.constantFrom('a', 'm_p', 'rho_s'), fc.integer({ min: 1, max: 99 }).map(String));
const { formula } = fc.letrec<{ formula: string }>((tie) => ({
  formula: fc.oneof(
    { maxDepth: 5, withCrossShrink: true },
    leaf,
    fc
      .tuple(tie('formula'), fc.constantFrom('+', '-', '*', '/', '^'), tie('formula'))
      .map(([left, operator, right]) => `(${left})${operator}(${right})`),
    tie('formula').map((inner) => `-(${inner})`),
    tie('formula').map((inner) => `sqrt(${inner})`),
  ),
}));

describe('a formula as MathML', () => {
  it('is read as it is calculated', () => {
    fc.assert(
      fc.property(formula, (text) => {
        const printed = readBack(set(text)).replaceAll('ρ', 'rho');
        // Sums and products may be regrouped on paper only where that is exact, so trees must agree up to a + (b + c).
        const flat = (value: string): string => value.replace(/\s/g, '');
        expect(meaning(parseExpression(flat(printed)))).toEqual(meaning(regrouped(parseExpression(text))));
      }),
      { numRuns: 500 },
    );
  });

  it('sets quotients as fractions, powers raised, roots as roots', () => {
    expect(set('a/b')).toBe('<mfrac><mrow><mi>a</mi></mrow><mrow><mi>b</mi></mrow></mfrac>');
    expect(set('a^2')).toBe('<msup><mi>a</mi><mrow><mn>2</mn></mrow></msup>');
    expect(set('sqrt(a)')).toBe('<msqrt><mi>a</mi></msqrt>');
    expect(set('(a+b)*c')).toContain('<mo>(</mo>');
    expect(set('a+b*c')).not.toContain('<mo>(</mo>');
    expect(set('exp(-a)')).toContain('<mi mathvariant="normal">exp</mi>');
  });

  it('sets what follows an underscore below, and Greek letters by their sign', () => {
    expect(nameToMathml('rho_a')).toBe('<msub><mi>ρ</mi><mi>a</mi></msub>');
    expect(nameToMathml('c_app_Al')).toBe('<msub><mi>c</mi><mi mathvariant="normal">app,Al</mi></msub>');
    expect(nameToMathml('moisture')).toBe('<mi mathvariant="normal">moisture</mi>');
  });

  it('sets very small numbers as powers of ten', () => {
    expect(set('2.5e-7')).toContain('<msup><mn>10</mn><mn>\u22127</mn></msup>');
    expect(() => htmlElements(set('sqrt(a/b)^2 - abs(c)'))).not.toThrow();
  });
});

/** a + (b + c) is printed as a + b + c and read from left to right; a / b / c as a / (b · c). */
function regrouped(tree: Expression): Expression {
  if (tree.kind === 'negation' || tree.kind === 'function')
    return { ...tree, operand: regrouped(tree.operand) };
  if (tree.kind !== 'operation') return tree;
  const left = regrouped(tree.left);
  const right = regrouped(tree.right);
  if (tree.operator === '+' && right.kind === 'operation' && '+-'.includes(right.operator)) {
    const inner: Expression = regrouped({ ...tree, left, right: right.left });
    return { ...right, left: inner };
  }
  if (tree.operator === '/' && left.kind === 'operation' && left.operator === '/') {
    return { ...tree, left: left.left, right: { ...tree, operator: '*', left: left.right, right } };
  }
  return { ...tree, left, right };
}
