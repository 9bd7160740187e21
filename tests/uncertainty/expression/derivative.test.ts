import { describe, expect, it } from 'vitest';
import { buildProgram } from '../../../src/uncertainty/expression/build-program.js';
import { derivativeOf, substitute } from '../../../src/uncertainty/expression/derivative.js';
import { evaluateProgram, gradientOf } from '../../../src/uncertainty/expression/evaluate-program.js';
import { formatExpression } from '../../../src/uncertainty/expression/format.js';
import { parseExpression } from '../../../src/uncertainty/expression/parse.js';
import type { Expression } from '../../../src/uncertainty/expression/syntax-tree.js';
import { randomStream } from '../../../src/uncertainty/random-stream.js';
import { randomFormula } from '../../support/random-formula.js';

function evaluated(tree: Expression, scope: Record<string, number>): number {
  const program = buildProgram([{ name: 'y', tree }]);
  const values = evaluateProgram(
    program,
    program.inputs.map((name) => scope[name]!),
  );
  return values[program.results[0]!]!;
}

/** The tree without positions. */
function shape(tree: Expression): string {
  return JSON.stringify(tree, (key, value: unknown) => (key === 'position' ? undefined : value));
}

describe('derivativeOf', () => {
  it('agrees with the gradient of the program in random formulas', () => {
    const random = randomStream(11, 'derivative');
    let compared = 0;
    for (let trial = 0; compared < 300 && trial < 5000; trial++) {
      const text = randomFormula(random, ['a', 'b'], 3);
      const scope = { a: 0.4 + random.uniform(), b: 0.4 + random.uniform() };
      const tree = parseExpression(text);
      const program = buildProgram([{ name: 'y', tree }]);
      const index = program.inputs.indexOf('a');
      if (index < 0) continue;
      try {
        const values = evaluateProgram(
          program,
          program.inputs.map((name) => scope[name as 'a']),
        );
        const y = values[program.results[0]!]!;
        const expected = gradientOf(program, values, program.results[0]!)[index]!;
        const found = evaluated(derivativeOf(tree, 'a'), scope);
        const size = Math.max(Math.abs(expected), Math.abs(y), 1e-6);
        expect(Math.abs(found - expected) / size, `${text} at ${JSON.stringify(scope)}`).toBeLessThan(1e-11);
        compared++;
      } catch (error) {
        if (!(error instanceof Error) || !/finite/.test(error.message)) throw error;
      }
    }
    expect(compared).toBe(300);
  });

  it.each([
    ['a * b', 'a', 'b'],
    ['a + b', 'a', '1'],
    ['b', 'a', '0'],
    ['a / b', 'b', '-(a / b^2)'],
    ['-a * b', 'a', '-b'],
    ['a^3', 'a', '3 * a^2'],
    ['sqrt(a)', 'a', '1 / (2 * sqrt(a))'],
    ['c - a * b', 'a', '-b'],
    ['2^a', 'a', '2^a * log(2)'],
    ['sin(2 * a)', 'a', 'cos(2 * a) * 2'],
  ])('of %s by %s reads %s', (text, name, expected) => {
    expect(formatExpression(derivativeOf(parseExpression(text), name))).toBe(expected);
  });
});

describe('formatExpression', () => {
  it('is read back to the same tree', () => {
    const random = randomStream(3, 'format');
    for (let trial = 0; trial < 500; trial++) {
      const tree = parseExpression(randomFormula(random, ['a', 'b', 'c'], 3));
      const text = formatExpression(tree);
      expect(shape(parseExpression(text)), text).toBe(shape(tree));
    }
  });

  it.each([
    ['a-(b-c)', 'a - (b - c)'],
    ['a-b-c', 'a - b - c'],
    ['a/(b/c)', 'a / (b / c)'],
    ['(-a)^2', '(-a)^2'],
    ['-(a^2)', '-a^2'],
    ['(a^b)^c', '(a^b)^c'],
    ['a^(b^c)', 'a^b^c'],
    ['a^(-b)', 'a^-b'],
    ['2*pi*a', '2 * pi * a'],
    ['-(a+b)', '-(a + b)'],
    ['a-(-b)', 'a - -b'],
  ])('writes %s as %s', (text, expected) => {
    expect(formatExpression(parseExpression(text))).toBe(expected);
  });
});

describe('substitute', () => {
  it('replaces a name wherever it stands', () => {
    const tree = substitute(parseExpression('a * sqrt(a) - b'), 'a', parseExpression('c + 1'));
    expect(formatExpression(tree)).toBe('(c + 1) * sqrt(c + 1) - b');
  });
});
