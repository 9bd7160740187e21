import type { CheckedTask } from '../simulation-task.js';
import { blockMoments, momentsPerBlock } from './block-moments.js';
import { BlockSimulator } from './block-simulator.js';

const calls = 300;
const shortBlock = 32;

/**
 * Calls every loop of a task often and briefly, so that the compiler has seen all of each before the first long call;
 * else it begins in the middle of a long one, with half the picture, and begins again and again.
 */
export function warmUp(checked: CheckedTask): void {
  const simulator = new BlockSimulator(checked, shortBlock);
  const { results } = simulator;
  const moments = new Float64Array(momentsPerBlock(results.length));
  for (let call = 0; call < calls; call++) {
    simulator.simulate(call);
    blockMoments(results, shortBlock, moments, 0);
  }
}
