import type { RunBuffers, RunPlan } from '../run-store.js';
import type { SimulationTask } from '../simulation-task.js';

/** What a thread is asked to help with. */
export interface HelpRequest {
  readonly task: SimulationTask;
  readonly plan: RunPlan;
  readonly buffers: RunBuffers;
}

/** What it answers when no block is left: nothing, or the words of an error. */
export interface HelpAnswer {
  readonly error: string | null;
}
