import { InputError } from '../../../errors.js';
import { evaluateProgram } from '../../expression/evaluate-program.js';
import { trialsPerBlock } from '../draws/block-stream.js';
import { inputDraws } from '../draws/input-draws.js';
import type { BlockDraw } from '../draws/lanes/stream-fills.js';
import type { CheckedTask } from '../simulation-task.js';
import { type BlockProgram, blockProgram } from './block-program.js';

/** Simulates one block after another of one task, in any order: a block depends on nothing but its number. */
export class BlockSimulator {
  readonly #checked: CheckedTask;
  readonly #program: BlockProgram;
  readonly #draws: readonly BlockDraw[];

  /** @throws InputError a distribution or joint sample that cannot be drawn from */
  constructor(checked: CheckedTask, size: number = trialsPerBlock) {
    const { ready, inputs, correlations, task } = checked;
    this.#checked = checked;
    const slots = ready.outputEquations.map((equation) => ready.program.results[equation]!);
    this.#program = blockProgram(ready.program, slots, size);
    this.#draws = inputDraws(inputs, correlations, task.seed, this.#program.inputs);
  }

  /** One column of trials an output, in the order of the outputs; overwritten by the next block. */
  get results(): readonly Float64Array[] {
    return this.#program.results;
  }

  simulate(block: number): void {
    for (const draw of this.#draws) draw(block);
    this.#program.run();
  }

  /**
   * Says what went wrong in a block that holds a value that is not finite.
   *
   * @throws InputError always: output and number of the first such trial, the operation and its operands
   */
  explain(block: number): never {
    this.simulate(block);
    const { ready } = this.#checked;
    const { inputs, results } = this.#program;
    const at = results[0]!.findIndex((_, i) => results.some((column) => !Number.isFinite(column[i])));
    if (at < 0) {
      throw new InputError(`block ${block + 1} of the simulation: the results are too large to be added up`);
    }
    const drawn = inputs.map((column) => column[at]!);
    const output = results.findIndex((column) => !Number.isFinite(column[at]));
    const what =
      `output "${ready.model.outputs[output]}": trial ${block * results[0]!.length + at + 1} of the simulation has ` +
      `the value ${results[output]![at]}; expected a finite number`;
    try {
      evaluateProgram(ready.program, drawn);
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      throw new InputError(`${what} (${error.message})`);
    }
    throw new InputError(what);
  }
}
