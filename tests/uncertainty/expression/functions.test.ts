import { all, create } from 'mathjs';
import { describe, expect, it } from 'vitest';
import { functionRule, functionRules } from '../../../src/uncertainty/expression/functions.js';

const math = create(all!);

/** The same function in words mathjs can differentiate. */
const inWords: Record<string, string> = { log2: 'log(x)/log(2)', log1p: 'log(1+x)', expm1: 'exp(x)-1' };

describe('functionRules', () => {
  it.each(Object.keys(functionRules))('has value and three derivatives of %s as mathjs has', (name) => {
    const rule = functionRules[name]!;
    for (const x of [0.17, 0.5, 0.83]) {
      let formula = math.parse(inWords[name] ?? `${name}(x)`);
      const y = rule.value(x);
      expect(y).toAgreeWithin(formula.evaluate({ x }) as number, 1e-13);
      for (const order of ['first', 'second', 'third'] as const) {
        formula = math.derivative(formula, 'x');
        expect(rule[order](x, y), `${order} of ${name} at ${x}`).toAgreeWithin(
          formula.evaluate({ x }) as number,
          1e-12,
        );
      }
      const stated = math.evaluate(rule.derivative, { x }) as number;
      expect(stated, `${rule.derivative} at ${x}`).toAgreeWithin(rule.first(x, y), 1e-13);
    }
  });

  it('finds no function by the names every object has', () => {
    for (const name of ['constructor', 'toString', '__proto__', 'hasOwnProperty']) {
      expect(functionRule(name)).toBeUndefined();
    }
  });
});
