import { blockMoments, combineMoments, momentsPerBlock } from './blocks/block-moments.js';
import type { BlockSimulator } from './blocks/block-simulator.js';
import { coverageIntervals } from './coverage-interval.js';
import { trialsPerBlock } from './draws/block-stream.js';
import {
  blocksOf,
  control,
  figuresPerOutput,
  type RunPlan,
  type RunStore,
  trialsOfBlock,
} from './run-store.js';

/**
 * Takes the next unit of blocks that no thread has taken, and simulates it.
 *
 * @returns whether there was one
 */
export function runNextUnit(simulator: BlockSimulator, plan: RunPlan, store: RunStore): boolean {
  const words = store.control;
  const unit = Atomics.add(words, control.next, 1);
  if (unit >= Atomics.load(words, control.end)) return false;
  const first = unit * plan.blocksPerUnit;
  const end = Math.min(first + plan.blocksPerUnit, blocksOf(plan.trials));
  for (let block = first; block < end; block++) {
    if (!runBlock(simulator, block, plan, store)) {
      // Units before this one are still finished, so that the first that fails is found whoever comes first.
      lowerTo(words, control.failed, unit);
      lowerTo(words, control.end, unit);
      return true;
    }
  }
  if (plan.interval !== null) writeFigures(unit, first, end, plan, store);
  Atomics.store(store.done, unit, 1);
  Atomics.add(words, control.done, 1);
  return true;
}

function runBlock(simulator: BlockSimulator, block: number, plan: RunPlan, store: RunStore): boolean {
  simulator.simulate(block);
  const { results } = simulator;
  const count = trialsOfBlock(block, plan.trials);
  const at = block * trialsPerBlock;
  results.forEach((column, o) => {
    store.values[o]!.set(count === column.length ? column : column.subarray(0, count), at);
  });
  return blockMoments(results, count, store.moments, block * momentsPerBlock(plan.outputs));
}

/** Sets a control word to a value unless it is below that already. */
export function lowerTo(words: Int32Array, place: number, value: number): void {
  let found = Atomics.load(words, place);
  while (value < found) found = Atomics.compareExchange(words, place, found, value);
}

function writeFigures(unit: number, first: number, end: number, plan: RunPlan, store: RunStore): void {
  const size = momentsPerBlock(plan.outputs);
  const counts = Array.from({ length: end - first }, (_, i) => trialsOfBlock(first + i, plan.trials));
  const { count, means, products } = combineMoments(
    store.moments.subarray(first * size, end * size),
    counts,
    plan.outputs,
  );
  const from = first * trialsPerBlock;
  for (let o = 0; o < plan.outputs; o++) {
    const values = store.values[o]!.subarray(from, from + count);
    const interval = coverageIntervals(values, plan.coverageProbability)[plan.interval!];
    const at = (unit * plan.outputs + o) * figuresPerOutput;
    store.figures[at] = means[o]!;
    store.figures[at + 1] = Math.sqrt(products[o]![o]! / (count - 1));
    store.figures[at + 2] = interval.low;
    store.figures[at + 3] = interval.high;
  }
}
