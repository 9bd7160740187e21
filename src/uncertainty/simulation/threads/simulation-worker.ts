import { parentPort } from 'node:worker_threads';
import { BlockSimulator } from '../blocks/block-simulator.js';
import { warmUp } from '../blocks/warm-up.js';
import { runNextUnit } from '../run-blocks.js';
import { storeIn } from '../run-store.js';
import { checkTask } from '../simulation-task.js';
import type { HelpAnswer, HelpRequest } from './message.js';

parentPort?.on('message', (request: HelpRequest) => {
  const answer: HelpAnswer = { error: help(request) };
  parentPort?.postMessage(answer);
});

function help({ task, plan, buffers }: HelpRequest): string | null {
  try {
    const checked = checkTask(task, plan.interval !== null);
    const simulator = new BlockSimulator(checked);
    const store = storeIn(buffers, plan);
    warmUp(checked);
    while (runNextUnit(simulator, plan, store));
    return null;
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
}
