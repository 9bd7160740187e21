import { describe, expect, it } from 'vitest';
import { parseExpression } from '../../../src/uncertainty/expression/parse.js';
import { type Expression, ExpressionError } from '../../../src/uncertainty/expression/syntax-tree.js';

/** Fully bracketed form, so that precedence can be read. */
function bracketed(tree: Expression): string {
  switch (tree.kind) {
    case 'number':
      return String(tree.value);
    case 'name':
      return tree.name;
    case 'negation':
      return `(-${bracketed(tree.operand)})`;
    case 'function':
      return `${tree.name}(${bracketed(tree.operand)})`;
    case 'operation':
      return `(${bracketed(tree.left)}${tree.operator}${bracketed(tree.right)})`;
  }
}

function fault(text: string): ExpressionError {
  try {
    parseExpression(text);
  } catch (error) {
    if (error instanceof ExpressionError) return error;
  }
  throw new Error(`"${text}" was read without an ExpressionError`);
}

describe('parseExpression', () => {
  it.each([
    ['a+b*c', '(a+(b*c))'],
    ['a-b-c', '((a-b)-c)'],
    ['a/b*c', '((a/b)*c)'],
    ['-a^2', '(-(a^2))'],
    ['(-a)^2', '((-a)^2)'],
    ['a^-b', '(a^(-b))'],
    ['a^b^c', '(a^(b^c))'],
    ['2^-a^2', '(2^(-(a^2)))'],
    ['-a*b', '((-a)*b)'],
    ['a - -b', '(a-(-b))'],
    ['+a', 'a'],
    [' sqrt( a )\n* .5', '(sqrt(a)*0.5)'],
    ['1.5e-3*m_s', '(0.0015*m_s)'],
    ['5.', '5'],
    ['log10(x)', 'log10(x)'],
  ])('reads %s with the precedence of mathematics', (text, expected) => {
    expect(bracketed(parseExpression(text))).toBe(expected);
  });

  it('reads pi as the number and e as a name', () => {
    expect(bracketed(parseExpression('pi*e'))).toBe(`(${Math.PI}*e)`);
  });

  it.each([
    ['', 1, 'found the end of the formula'],
    ['a+', 3, 'found the end of the formula'],
    ['(a*b', 5, 'for the "(" at position 1'],
    ['a*b)', 4, 'found ")"'],
    ['2a', 2, 'a product needs its "*"'],
    ['2 3', 3, 'a product needs its "*"'],
    ['a b', 3, 'expected an operator'],
    ['1.2.3', 4, 'a product needs its "*"'],
    ['1,5*a', 2, 'expected a decimal point'],
    ['a = b', 3, 'right-hand side'],
    ['sqrt a', 6, 'expected "(" after the function sqrt'],
    ['sqrt', 5, 'expected "(" after the function sqrt'],
    ['sinus(a)', 1, 'expected one of the functions sqrt'],
    ['a % b', 3, 'found "%"'],
    ['a!', 2, 'found "!"'],
    ['_a', 1, 'begins with a letter'],
    ['µ', 1, 'found "µ"'],
    ['1e999', 1, 'range of double precision'],
    ['atan(a, b)', 7, 'functions have one argument'],
  ])('refuses %s at position %i', (text, position, reason) => {
    const found = fault(text);
    expect(found.position).toBe(position);
    expect(found.message).toContain(reason);
  });

  it('points at the place in the message', () => {
    expect(fault('a + * b').message.split('\n').slice(1)).toEqual(['  a + * b', '      ^']);
  });

  it.each([
    'a.constructor',
    'a["constructor"]',
    'constructor("return process")()',
    'toString()',
    'hasOwnProperty(1)',
    '__proto__(1)',
    'import(fs)',
    'createUnit("x")',
    'evaluate("1")',
    'f(x)=x',
    'x=1',
    'a;b',
    '"text"',
    '`x`',
    '{a:1}',
    '[1,2]',
    '() => 1',
    'a?b:c',
    'process.exit(1)',
    'new Date()',
    'a ? 1 : 2',
    'a && b',
    'a..b',
    'a|b',
    '\u0000a',
  ])('gives %s no way to the machine', (text) => {
    expect(() => parseExpression(text)).toThrow(ExpressionError);
  });

  it('refuses nesting and length without end', () => {
    expect(fault(`${'('.repeat(300)}a${')'.repeat(300)}`).message).toContain('levels of nesting');
    expect(fault(`${'-'.repeat(300)}a`).message).toContain('levels of nesting');
    expect(fault(`a${'^a'.repeat(300)}`).message).toContain('levels of nesting');
    expect(fault('a'.repeat(10_001)).message).toContain('at most 10000');
  });
});
