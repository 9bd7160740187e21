import { all, create } from 'mathjs';
import { describe, expect, it } from 'vitest';
import { buildProgram } from '../../../src/uncertainty/expression/build-program.js';
import { evaluateProgram, gradientOf } from '../../../src/uncertainty/expression/evaluate-program.js';
import { functionRules } from '../../../src/uncertainty/expression/functions.js';
import { parseExpression } from '../../../src/uncertainty/expression/parse.js';
import { randomStream } from '../../../src/uncertainty/random-stream.js';
import { randomFormula } from '../../support/random-formula.js';

const math = create(all!);
const names = ['a', 'b', 'c'];

/** mathjs does not differentiate these; `functions.test.ts` judges them. */
const known = Object.keys(functionRules).filter((name) => !['log2', 'log1p', 'expm1'].includes(name));

function programOf(text: string) {
  return buildProgram([{ name: 'y', tree: parseExpression(text) }]);
}

describe('evaluateProgram', () => {
  it('agrees with mathjs in values and derivatives of a thousand random formulas', () => {
    const random = randomStream(20240, 'formulas');
    let compared = 0;
    for (let trial = 0; compared < 1200 && trial < 20_000; trial++) {
      const text = randomFormula(random, names, 1 + Math.floor(3 * random.uniform()), known);
      const scope = Object.fromEntries(names.map((name) => [name, 0.3 + 2 * random.uniform()]));
      const expected: unknown = math.evaluate(text, { ...scope });
      if (typeof expected !== 'number' || !(Math.abs(expected) < 1e6 && Math.abs(expected) > 1e-6)) continue;
      const program = programOf(text);
      const inputs = program.inputs.map((name) => scope[name]!);
      const values = evaluateProgram(program, inputs);
      expect(values[program.results[0]!]!, text).toAgreeWithin(expected, 1e-12);
      const derivatives = program.inputs.map((name): unknown =>
        math.derivative(text, name, { simplify: false }).evaluate({ ...scope }),
      );
      if (derivatives.some((d) => typeof d !== 'number' || !(Math.abs(d) < 1e6))) continue;
      const gradient = gradientOf(program, values, program.results[0]!);
      program.inputs.forEach((name, i) => {
        const found = Math.abs(gradient[i]! - (derivatives[i] as number));
        const size = Math.max(Math.abs(derivatives[i] as number), Math.abs(expected));
        expect(found / size, `${text} by ${name}: ${gradient[i]} against ${derivatives[i]}`).toBeLessThan(
          1e-12,
        );
      });
      compared++;
    }
    expect(compared).toBe(1200);
  });

  it('shares equal parts and computes constants beforehand', () => {
    const program = programOf('(a*b + 2*3)/(a*b) + sqrt(4)');
    expect(program.operations.map(({ name }) => name)).toEqual(['multiply', 'add', 'divide', 'add']);
    expect(program.constants).toEqual([2, 6]);
  });

  it('turns whole powers and halves into products and roots', () => {
    expect(programOf('a^3').operations.map(({ name }) => name)).toEqual(['multiply', 'multiply']);
    expect(programOf('a^0.5').operations.map(({ functionName }) => functionName)).toEqual(['sqrt']);
    expect(programOf('a^-2').operations.map(({ name }) => name)).toEqual(['multiply', 'divide']);
    expect(programOf('a^1.5').operations.map(({ name }) => name)).toEqual(['power']);
  });

  it('lets a later equation use the value of an earlier one', () => {
    const program = buildProgram([
      { name: 's', tree: parseExpression('a + 1') },
      { name: 'y', tree: parseExpression('s * s') },
      { name: 'z', tree: parseExpression('s') },
    ]);
    const values = evaluateProgram(program, [2]);
    expect(program.results.map((slot) => values[slot])).toEqual([3, 9, 3]);
    expect(gradientOf(program, values, program.results[1]!)[0]).toBe(6);
    expect(gradientOf(program, values, program.results[2]!)[0]).toBe(1);
  });

  it.each([
    ['1/(a-2)', 'equation "y", position 2: found 1 / 0 = Infinity'],
    ['a^5000', 'equation "y", position 2: found 2 ^ 5000 = Infinity'],
    ['log(a-3)', 'equation "y", position 1: found log(-1) = NaN'],
    ['1/0 + a', 'equation "y", position 2: found 1 / 0 = Infinity'],
    ['(a-3)^0.5', 'sqrt(-1)'],
  ])('says where %s has no finite value', (text, message) => {
    const program = programOf(text);
    expect(() => evaluateProgram(program, [2])).toThrow(message);
  });

  it.each(['sqrt(a)', 'abs(a)', 'a^0.3', 'cbrt(a)'])('says where %s has no derivative', (text) => {
    const program = programOf(text);
    const values = evaluateProgram(program, [0]);
    expect(() => gradientOf(program, values, program.results[0]!)).toThrow('has no finite derivative there');
  });

  it('has derivatives at zero where they exist', () => {
    const program = programOf('a^2 + a^5 + (2*a)^b');
    const values = evaluateProgram(program, [0, 2]);
    expect([...gradientOf(program, values, program.results[0]!)]).toEqual([0, 0]);
  });
});
