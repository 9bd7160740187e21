import type { Program } from '../../expression/program.js';
import { blockOperation, type Operand } from './block-operations.js';

/** A program that works on blocks of trials. */
export interface BlockProgram {
  /** One column an input, to be filled before each run. */
  readonly inputs: readonly Float64Array[];
  /** The columns asked for, filled by each run. */
  readonly results: readonly Float64Array[];
  readonly run: () => void;
}

/**
 * A program as a list of operations on whole blocks. Nothing is made from text; a column is used again as soon as nobody
 * reads it any more.
 *
 * @param program the operations
 * @param slots slots whose columns are wanted
 * @param size trials in a block, a multiple of four
 */
export function blockProgram(program: Program, slots: readonly number[], size: number): BlockProgram {
  const { operations, constants } = program;
  const inputs = program.inputs.map(() => new Float64Array(size));
  const base = inputs.length + constants.length;
  const operands: Operand[] = [...inputs, ...constants];
  const lastUse = lastUses(program, slots);
  const free: Float64Array[] = [];
  const steps = operations.map((operation, i) => {
    const { first, second } = operation;
    const [a, b] = [operands[first]!, second < 0 ? 0 : operands[second]!];
    for (const slot of new Set([first, second])) {
      const operand = slot >= base && lastUse[slot] === i ? operands[slot] : undefined;
      if (operand instanceof Float64Array) free.push(operand);
    }
    const out = free.pop() ?? new Float64Array(size);
    operands[base + i] = out;
    return blockOperation(operation, a, b, out);
  });
  const results = slots.map((slot) => columnOf(operands[slot]!, size));
  const run = (): void => {
    for (const step of steps) step();
  };
  return { inputs, results, run };
}

/** Index of the last operation that reads each slot; those wanted at the end are never given up. */
function lastUses(program: Program, slots: readonly number[]): Int32Array {
  const last = new Int32Array(program.slots).fill(-1);
  program.operations.forEach(({ first, second }, i) => {
    last[first] = i;
    if (second >= 0) last[second] = i;
  });
  for (const slot of slots) last[slot] = program.operations.length;
  return last;
}

/** A model without inputs is a constant. */
function columnOf(operand: Operand, size: number): Float64Array {
  return typeof operand === 'number' ? new Float64Array(size).fill(operand) : operand;
}
