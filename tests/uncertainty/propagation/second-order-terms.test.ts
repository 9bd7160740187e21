import { all, create } from 'mathjs';
import { describe, expect, it } from 'vitest';
import { buildProgram } from '../../../src/uncertainty/expression/build-program.js';
import { directionalGradient } from '../../../src/uncertainty/expression/directional-gradient.js';
import { functionRules } from '../../../src/uncertainty/expression/functions.js';
import { parseExpression } from '../../../src/uncertainty/expression/parse.js';
import { secondOrderTerms } from '../../../src/uncertainty/propagation/second-order-terms.js';
import { randomStream } from '../../../src/uncertainty/random-stream.js';
import { input } from '../../support/input.js';
import { model } from '../../support/model.js';
import { randomFormula } from '../../support/random-formula.js';

const math = create(all!);
const known = Object.keys(functionRules).filter((name) => !['log2', 'log1p', 'expm1'].includes(name));

describe('directionalGradient', () => {
  it('agrees with second and third derivatives by mathjs in random formulas', () => {
    const random = randomStream(5, 'third');
    let compared = 0;
    for (let trial = 0; compared < 100 && trial < 3000; trial++) {
      const text = randomFormula(random, ['a', 'b'], 2, known);
      const scope = { a: 0.4 + random.uniform(), b: 0.4 + random.uniform() };
      const program = buildProgram([{ name: 'y', tree: parseExpression(text) }]);
      if (program.inputs.length < 2) continue;
      const names = program.inputs as ('a' | 'b')[];
      const derivative = (...by: string[]): unknown => {
        let node = math.parse(text);
        for (const name of by) node = math.derivative(node, name, { simplify: false });
        return node.evaluate({ ...scope });
      };
      const expected = names.map((name) => [derivative(name, 'a'), derivative(name, 'a', 'a')]);
      if (expected.flat().some((value) => typeof value !== 'number' || !(Math.abs(value) < 1e5))) continue;
      const direction = names.map((name) => (name === 'a' ? 1 : 0));
      const found = directionalGradient(
        program,
        names.map((name) => scope[name]),
        direction,
        program.results[0]!,
      );
      names.forEach((name, i) => {
        const [second, third] = expected[i] as [number, number];
        const size = Math.max(1, Math.abs(second), Math.abs(third));
        expect(Math.abs(found.first[i]! - second) / size, `${text} by ${name}`).toBeLessThan(1e-10);
        expect(Math.abs(found.second[i]! - third) / size, `${text} by ${name}`).toBeLessThan(1e-10);
      });
      compared++;
    }
    expect(compared).toBe(100);
  });
});

describe('secondOrderTerms', () => {
  const [a, ua, b, ub] = [3, 0.4, -2, 0.3];
  const inputs = [input('b', b, ub), input('a', a, ua)];

  it('gives the exact variance of a product of normal quantities, correlated ones included', () => {
    for (const r of [0, 0.5, -1]) {
      const correlations = [{ first: 'a', second: 'b', coefficient: r }];
      const found = secondOrderTerms(model({ y: 'a * b' }), inputs, correlations, 'y');
      const exact = (a * ub) ** 2 + (b * ua) ** 2 + 2 * a * b * r * ua * ub + (ua * ub) ** 2 * (1 + r * r);
      expect(found.standardUncertainty ** 2).toAgreeWithin(exact, 1e-12);
      expect(found.meanShift).toAgreeWithin(r * ua * ub, 1e-12);
      expect(found.pairs).toHaveLength(r === 0 ? 1 : 0);
    }
  });

  it('gives the exact variance of a square and, to this order, that of a cube', () => {
    const square = secondOrderTerms(model({ y: 'a^2' }), [input('a', a, ua)], [], 'y');
    expect(square.standardUncertainty ** 2).toAgreeWithin(4 * a ** 2 * ua ** 2 + 2 * ua ** 4, 1e-13);
    expect(square.meanShift).toAgreeWithin(ua ** 2, 1e-13);
    const cube = secondOrderTerms(model({ y: 'a^3' }), [input('a', a, ua)], [], 'y');
    expect(cube.standardUncertainty ** 2).toAgreeWithin(9 * a ** 4 * ua ** 2 + 36 * a ** 2 * ua ** 4, 1e-13);
  });

  it('finds what is left where all sensitivity coefficients vanish', () => {
    // JCGM 101:2008, 9.4 at x1 = x2 = 0: y = x1² + x2² has u(y) = 2·u² exactly.
    const zero = [input('x1', 0, 0.005), input('x2', 0, 0.005)];
    const found = secondOrderTerms(model({ y: 'x1^2 + x2^2' }), zero, [], 'y');
    expect(found.firstOrderUncertainty).toBe(0);
    expect(found.standardUncertainty).toAgreeWithin(2 * 0.005 ** 2, 1e-13);
    expect(found.meanShift).toAgreeWithin(2 * 0.005 ** 2, 1e-13);
  });

  it('refuses an expansion that gives a variance below zero', () => {
    expect(() => secondOrderTerms(model({ y: 'sin(a)' }), [input('a', 0, 3)], [], 'y')).toThrow(
      'expected simulation',
    );
  });

  it('refuses an output that the model lacks', () => {
    expect(() => secondOrderTerms(model({ y: 'a + b' }), inputs, [], 'z')).toThrow(
      'output "z" is no equation',
    );
  });
});
