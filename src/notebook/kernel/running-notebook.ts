import { setTimeout as delay } from 'node:timers/promises';
import type { Notebook } from '../format/notebook.js';
import { describeExit, type Kernel } from './kernel.js';
import { type Message, request } from './message.js';
import { OutputRecord } from './output-record.js';

/** News of a run; `cell` counts all cells of the executed notebook from 1. */
export interface CellProgress {
  readonly cell: number;
  readonly of: number;
  readonly source: string;
  readonly state: 'running' | 'done' | 'failed';
}

/** Why a run stopped: the cell, counted from 1 in the executed notebook, what it says and what went wrong. */
export interface RunFailure {
  readonly cell: number;
  readonly source: string;
  readonly message: string;
}

/** Seconds for which the end of a cell's output is waited for after its reply, and given to an interrupted cell. */
const grace = { output: 2, interrupt: 1 };

/** One run of a notebook on a kernel that has been started for it. */
export class RunningNotebook {
  private readonly record: OutputRecord;
  private readonly counts: (number | null)[];
  /** Place of the cell that each request runs. */
  private readonly places = new Map<string, number>();
  private readonly onIdle = new Map<string, () => void>();
  private failure: RunFailure | undefined;

  constructor(
    private readonly kernel: Kernel,
    private readonly notebook: Notebook,
    private readonly options: {
      readonly timeoutSeconds: number;
      readonly settleSeconds: number;
      readonly onCell: (progress: CellProgress) => void;
    },
  ) {
    this.record = new OutputRecord(notebook.cells.length);
    this.counts = notebook.cells.map(() => null);
    kernel.onPublished = (message) => this.hear(message);
  }

  /** Runs the cells up to the first failure, and waits for what they left running. */
  async toEnd(): Promise<RunFailure | undefined> {
    const code = this.notebook.cells.flatMap((cell, place) =>
      cell.cell_type === 'code' && cell.source.trim() !== '' ? [{ place, source: cell.source }] : [],
    );
    for (const [i, { place, source }] of code.entries()) {
      this.tell(place, 'running');
      await this.execute(place, source);
      if (i === code.length - 1 && !this.failure) await this.settle(place);
      this.tell(place, this.failure ? 'failed' : 'done');
      if (this.failure) break;
    }
    return this.failure;
  }

  /** The notebook with the outputs so far. */
  executed(): Notebook {
    const cells = this.notebook.cells.map((cell, i) =>
      cell.cell_type === 'code'
        ? { ...cell, execution_count: this.counts[i]!, outputs: this.record.of(i) }
        : cell,
    );
    return { ...this.notebook, cells };
  }

  private async execute(place: number, code: string): Promise<void> {
    const message = request('execute_request', {
      code,
      silent: false,
      store_history: true,
      allow_stdin: false,
    });
    this.places.set(message.id, place);
    const idle = new Promise<void>((resolve) => this.onIdle.set(message.id, resolve));
    const reply = this.kernel.ask(message);
    const end = await this.first(reply, this.options.timeoutSeconds);
    if (end === 'late') return this.stop(place, reply);
    if (end === 'exit') return this.ended(place);
    this.counts[place] = Number(end.content.execution_count);
    if ((await this.first(idle, grace.output)) === 'late') {
      this.record.print(place, 'stderr', '[cut: the kernel never said that this output had ended]\n');
    }
    if (end.content.status !== 'ok') this.fail(place, 'the kernel reported an error without a reason');
  }

  /** Work that the cells left running may still print or fail. */
  private async settle(place: number): Promise<void> {
    const exit = await this.kernel.shutDown(this.options.settleSeconds);
    if (!exit) this.record.print(place, 'stderr', '[work left running was ended after the last cell]\n');
    else if (exit.code !== 0) await this.ended(place);
  }

  private async stop(place: number, reply: Promise<Message>): Promise<void> {
    this.fail(place, `the cell did not end within ${this.options.timeoutSeconds} s`);
    this.kernel.interrupt();
    await this.first(reply, grace.interrupt);
    await this.kernel.kill();
    this.addFailure(place, 'Timeout');
  }

  private async ended(place: number): Promise<void> {
    this.fail(place, `kernel ${describeExit(await this.kernel.exit)}`);
    this.addFailure(place, 'KernelExit');
  }

  /** What comes first: the event, the end of the kernel, or the end of the time. */
  private async first<T>(event: Promise<T>, seconds: number): Promise<T | 'exit' | 'late'> {
    const timer = new AbortController();
    const late = delay(seconds * 1000, 'late' as const, { signal: timer.signal }).catch(
      () => 'late' as const,
    );
    try {
      return await Promise.race([event, this.kernel.exit.then(() => 'exit' as const), late]);
    } finally {
      timer.abort();
    }
  }

  private hear(message: Message): void {
    const place = this.places.get(message.parent);
    if (place === undefined) return;
    if (message.type === 'status' && message.content.execution_state === 'idle') {
      this.onIdle.get(message.parent)!();
    }
    this.record.add(place, message);
    if (message.type === 'error') this.fail(place, `${message.content.ename}: ${message.content.evalue}`);
  }

  /** The first failure is the one that counts: what follows follows from it. */
  private fail(place: number, message: string): void {
    this.failure ??= { cell: place + 1, source: this.notebook.cells[place]!.source, message };
  }

  /** Marks the failing cell where the kernel itself can no longer do it. */
  private addFailure(place: number, ename: string): void {
    const { message } = this.failure!;
    this.record.addError(place, { ename, evalue: message, traceback: message.split('\n') });
  }

  private tell(place: number, state: CellProgress['state']): void {
    const { cells } = this.notebook;
    this.options.onCell({ cell: place + 1, of: cells.length, source: cells[place]!.source, state });
  }
}
