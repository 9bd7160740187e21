import { isMainThread, Worker, workerData } from 'node:worker_threads';

/**
 * Ends this process when the one that started it is gone, be it killed: a kernel left behind would compute on.
 * A thread of its own looks, because a cell in a synchronous loop lets no timer fire.
 */
export function watchParent(): void {
  new Worker(__filename, { workerData: { parent: process.ppid } }).unref();
}

if (!isMainThread) {
  const { parent } = workerData as { parent: number };
  setInterval(() => {
    if (process.ppid !== parent) process.kill(process.pid, 'SIGKILL');
  }, 500);
}
