import { join } from 'node:path';
import { injectParameters, type ParameterValues } from './format/inject-parameters.js';
import type { Notebook } from './format/notebook.js';
import { Kernel } from './kernel/kernel.js';
import { type CellProgress, type RunFailure, RunningNotebook } from './kernel/running-notebook.js';
import { projectRoot } from './project-root.js';

export type { CellProgress, RunFailure } from './kernel/running-notebook.js';

export interface RunOptions {
  readonly source: Notebook;
  readonly parameters?: ParameterValues;
  /** Folder of the kernel: imports are looked for from here. */
  readonly cwd: string;
  /** Longest time a cell may take, in seconds; 300 unless given. */
  readonly timeoutSecondsPerCell?: number;
  readonly onCell?: (progress: CellProgress) => void;
  /** Options of Node for the kernel process, such as `--max-old-space-size=512`. */
  readonly nodeOptions?: readonly string[];
  /** Environment of the kernel; this process's own unless given. Time zone and locale are always UTC and C. */
  readonly env?: NodeJS.ProcessEnv;
  /** Time that work left running after the last cell is given to end, in seconds; 5 unless given. */
  readonly settleSeconds?: number;
  /** Program that runs the kernel; our own launcher unless given. */
  readonly kernel?: readonly [string, ...string[]];
}

export interface NotebookRun {
  /** The executed copy; after a failure it holds what was there up to then. */
  readonly notebook: Notebook;
  readonly ok: boolean;
  readonly failure?: RunFailure;
}

/**
 * Executes a notebook on a fresh tslab kernel, top to bottom, up to the first failure.
 *
 * A failure is: a cell that does not pass the type check or throws, a rejection or a throw in a timer that nobody
 * handles (also after the cell has ended), a cell that takes too long, and the end of the kernel process.
 *
 * @returns the executed copy, whether all went well, and if not the failing cell with its reason
 * @throws InputError a parameter that the notebook does not declare
 * @throws MeltbookError the kernel cannot be started
 */
export async function runNotebook(options: RunOptions): Promise<NotebookRun> {
  const notebook = injectParameters(options.source, options.parameters ?? {});
  const launcher = join(projectRoot(), 'dist', 'notebook', 'kernel', 'kernel-launcher.js');
  const kernel = await Kernel.start({
    command: options.kernel ?? [process.execPath, ...(options.nodeOptions ?? []), launcher],
    cwd: options.cwd,
    env: { ...(options.env ?? process.env), TZ: 'UTC', LANG: 'C.UTF-8', LC_ALL: 'C.UTF-8' },
    startSeconds: 120,
  });
  const run = new RunningNotebook(kernel, notebook, {
    timeoutSeconds: options.timeoutSecondsPerCell ?? 300,
    settleSeconds: options.settleSeconds ?? 5,
    onCell: options.onCell ?? (() => undefined),
  });
  try {
    const failure = await run.toEnd();
    return { notebook: run.executed(), ok: !failure, ...(failure ? { failure } : {}) };
  } finally {
    await kernel.kill();
  }
}
