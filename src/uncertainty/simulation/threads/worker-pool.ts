import { Worker } from 'node:worker_threads';
import { compiledProgram } from './compiled-program.js';

/** Threads without work. A thread takes 50 ms to start and more to compile, so that it is kept for the next simulation. */
const idle: Worker[] = [];
let retirement: NodeJS.Timeout | null = null;

const idleMilliseconds = 5000;

/** A thread, new or idle; the process stays up for it. */
export function takeWorker(): Worker {
  const worker = idle.pop() ?? startWorker();
  worker.ref();
  return worker;
}

function startWorker(): Worker {
  const worker = new Worker(compiledProgram(__filename, 'simulation-worker.js'), { execArgv: [] });
  // One that ends while it has no work is not given out again; whoever waits for one hears of its error himself.
  worker.on('error', () => undefined);
  worker.on('exit', () => {
    const at = idle.indexOf(worker);
    if (at >= 0) idle.splice(at, 1);
  });
  return worker;
}

/** Puts a thread back that has finished; after a few seconds without work it is ended, and no process waits for it. */
export function keepWorker(worker: Worker): void {
  worker.unref();
  idle.push(worker);
  if (retirement !== null) clearTimeout(retirement);
  retirement = setTimeout(() => void endIdleWorkers(), idleMilliseconds);
  retirement.unref();
}

/** Ends the threads that have no work now. @returns their number */
export async function endIdleWorkers(): Promise<number> {
  if (retirement !== null) clearTimeout(retirement);
  retirement = null;
  const ended = await Promise.all(idle.splice(0).map((worker) => worker.terminate()));
  return ended.length;
}
