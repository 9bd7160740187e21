import type { Worker } from 'node:worker_threads';
import { MeltbookError } from '../../../errors.js';
import type { HelpAnswer, HelpRequest } from './message.js';
import { keepWorker, takeWorker } from './worker-pool.js';

/** Further threads that take blocks of one simulation. */
export class Helpers {
  readonly #work: Promise<void>[];
  #failure: MeltbookError | null = null;

  constructor(count: number, { task, plan, buffers }: HelpRequest) {
    const request: HelpRequest = { task, plan, buffers };
    this.#work = Array.from({ length: count }, () =>
      help(takeWorker(), request).catch((error: unknown) => {
        const reason = error instanceof Error ? error.message : String(error);
        this.#failure ??= new MeltbookError(`a thread of the simulation failed: ${reason}`, 4, {
          cause: error,
        });
      }),
    );
  }

  /** @throws MeltbookError a thread has failed: its blocks are lost */
  throwIfFailed(): void {
    if (this.#failure !== null) throw this.#failure;
  }

  /** Waits until no thread has work left. @throws MeltbookError one has failed */
  async finished(): Promise<void> {
    await this.settled();
    this.throwIfFailed();
  }

  /** Waits until no thread works any more, whatever came of it. */
  async settled(): Promise<void> {
    await Promise.all(this.#work);
  }
}

/** One thread's part: it is kept when it has answered, and ended when it has failed. */
async function help(worker: Worker, request: HelpRequest): Promise<void> {
  try {
    const { error } = await ask(worker, request);
    if (error !== null) throw new Error(error);
    keepWorker(worker);
  } catch (error) {
    await worker.terminate();
    throw error;
  }
}

function ask(worker: Worker, request: HelpRequest): Promise<HelpAnswer> {
  return new Promise((resolve, reject) => {
    const onExit = (code: number): void => reject(new Error(`it ended with code ${code}`));
    const leave = (): void => {
      worker.off('message', onMessage);
      worker.off('error', onError);
      worker.off('exit', onExit);
    };
    const onMessage = (answer: HelpAnswer): void => {
      leave();
      resolve(answer);
    };
    const onError = (error: Error): void => {
      leave();
      reject(error);
    };
    worker.on('message', onMessage).on('error', onError).on('exit', onExit);
    worker.postMessage(request);
  });
}
