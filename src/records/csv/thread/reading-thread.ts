import { on } from 'node:events';
import { Worker } from 'node:worker_threads';
import { MeltbookError } from '../../../errors.js';
import { compiledProgram } from '../../../uncertainty/simulation/threads/compiled-program.js';
import type { IssueList } from '../../issue-list.js';
import type { ReadingRecord } from '../../tables/readings.js';
import type { TypedReading } from '../read-typed-rows.js';
import type { TypedRows } from '../typed-rows.js';
import { goesOn, type ReadingRequest, type ReadPart, words } from './message.js';
import { RowReceiver } from './sent-rows.js';

/** How long a thread waits for somebody to take what it reads. */
const patienceMilliseconds = 10_000;

/**
 * A thread that reads a table of readings run by run as `readRowGroups` does, ahead of whoever takes the runs. Rows,
 * problems and their order are the same; rows are good until the next run is asked for. It keeps no process up and ends by
 * itself if nobody takes the first run.
 */
export class ReadingThread {
  readonly #file: string;
  readonly #progress = new Int32Array(new SharedArrayBuffer(8));
  readonly #worker: Worker;
  readonly #messages: AsyncIterable<[ReadPart]>;
  readonly #patience: NodeJS.Timeout;
  #state: 'waiting' | 'taken' | 'ended' = 'waiting';

  constructor({ path, file, decimalMark, limits }: Omit<TypedReading<ReadingRecord>, 'issues' | 'table'>) {
    this.#file = file;
    const progress = this.#progress.buffer as SharedArrayBuffer;
    const request: ReadingRequest = { path, file, decimalMark, limits: limits ?? null, progress };
    this.#worker = new Worker(compiledProgram(__filename, 'reading-program.js'), { execArgv: [] });
    this.#worker.postMessage(request);
    this.#worker.unref();
    // Listens from now on, so that no part is lost. Errors wait there for whoever takes the runs.
    this.#messages = on(this.#worker, 'message', { close: ['exit'] }) as AsyncIterable<[ReadPart]>;
    this.#patience = setTimeout(() => void this.end(), patienceMilliseconds).unref();
  }

  /** Whether the runs can still be taken: once. */
  get isWaiting(): boolean {
    return this.#state === 'waiting';
  }

  /**
   * @param issues problems are added as they are found
   * @throws MeltbookError the thread ended before the table did
   */
  async *runs(issues: IssueList): AsyncGenerator<TypedRows<ReadingRecord>, void, undefined> {
    this.#state = 'taken';
    clearTimeout(this.#patience);
    this.#worker.ref();
    const receiver = new RowReceiver<ReadingRecord>();
    let known = 0;
    try {
      for await (const [part] of this.#messages) {
        for (const issue of part.issues.slice(known)) issues.add(issue);
        known = part.issues.length;
        if (part.rows === null) return;
        yield receiver.receive(part.rows);
        const taken = Atomics.add(this.#progress, words.taken, 1) + 1;
        if (Atomics.load(this.#progress, words.sent) - taken <= goesOn) {
          Atomics.notify(this.#progress, words.taken);
        }
      }
      throw new MeltbookError(`${this.#file}: the thread that reads it ended before the file did`, 4);
    } finally {
      await this.end();
    }
  }

  async end(): Promise<void> {
    this.#state = 'ended';
    clearTimeout(this.#patience);
    await this.#worker.terminate();
  }
}
