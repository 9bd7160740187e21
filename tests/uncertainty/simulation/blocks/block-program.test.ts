import { describe, expect, it } from 'vitest';
import { InputError } from '../../../../src/errors.js';
import { buildProgram } from '../../../../src/uncertainty/expression/build-program.js';
import { evaluateProgram } from '../../../../src/uncertainty/expression/evaluate-program.js';
import { parseExpression } from '../../../../src/uncertainty/expression/parse.js';
import { randomStream } from '../../../../src/uncertainty/random-stream.js';
import { blockProgram } from '../../../../src/uncertainty/simulation/blocks/block-program.js';
import { randomFormula } from '../../../support/random-formula.js';

const size = 8;

describe('a program on blocks', () => {
  it('gives, trial by trial, the bits of the program on numbers: five hundred random models of three equations', () => {
    const random = randomStream(7, 'models');
    let compared = 0;
    for (let trial = 0; trial < 500; trial++) {
      const text = (names: readonly string[]): string =>
        randomFormula(random, names, 1 + Math.floor(3 * random.uniform()));
      const program = buildProgram([
        { name: 'x', tree: parseExpression(text(['a', 'b', 'c'])) },
        { name: 'y', tree: parseExpression(text(['a', 'x', 'c'])) },
        { name: 'z', tree: parseExpression(text(['b', 'x', 'y'])) },
      ]);
      const block = blockProgram(program, program.results, size);
      for (const column of block.inputs) column.set(column.map(() => 0.3 + 2 * random.uniform()));
      const before = block.inputs.map((column) => Float64Array.from(column));
      block.run();
      expect(block.inputs).toEqual(before);
      for (let i = 0; i < size; i++) {
        try {
          const values = evaluateProgram(
            program,
            block.inputs.map((column) => column[i]!),
          );
          expect(block.results.map((column) => column[i])).toEqual(
            program.results.map((slot) => values[slot]),
          );
          compared++;
        } catch (error) {
          // No finite value at this point: not what is compared here.
          if (!(error instanceof InputError)) throw error;
        }
      }
    }
    expect(compared).toBeGreaterThan(2000);
  });

  it('gives the same when it runs again, though columns are used for several results', () => {
    const program = buildProgram([
      { name: 'y', tree: parseExpression('(a + b) * (a - b) / (a * b + 1) - sqrt(a) ^ (b + 1)') },
    ]);
    const block = blockProgram(program, program.results, size);
    for (const column of block.inputs) column.set(column.map((_, i) => 1 + i));
    block.run();
    const first = Float64Array.from(block.results[0]!);
    block.run();
    expect(block.results[0]).toEqual(first);
  });

  it('takes an input, or a constant, as a result', () => {
    const program = buildProgram([
      { name: 'x', tree: parseExpression('a') },
      { name: 'y', tree: parseExpression('2 * 3') },
    ]);
    const block = blockProgram(program, program.results, size);
    block.inputs[0]!.fill(5);
    block.run();
    expect(block.results.map((column) => column[3])).toEqual([5, 6]);
  });
});
