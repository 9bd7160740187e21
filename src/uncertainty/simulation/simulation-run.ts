import { InputError, MeltbookError } from '../../errors.js';
import { blockMoments, momentsPerBlock } from './blocks/block-moments.js';
import { BlockSimulator } from './blocks/block-simulator.js';
import { warmUp } from './blocks/warm-up.js';
import { runNextUnit } from './run-blocks.js';
import { borrowMemory, type RunMemory, returnMemory } from './run-memory.js';
import { runPlanOf } from './run-plan.js';
import {
  blocksOf,
  bytesOfValues,
  control,
  makeBuffers,
  type RunBuffers,
  type RunPlan,
  type RunStore,
  storeIn,
  trialsOfUnits,
  unitsOf,
} from './run-store.js';
import type { Simulation, SimulationOptions } from './simulation.js';
import { type CheckedTask, checkTask, type SimulationTask } from './simulation-task.js';
import { StabilityJudge } from './stability.js';
import { summarize } from './summarize.js';

/** Trials after which a simulation looks up: reports how far it is, and sees whether it shall stop. */
const trialsPerBreath = 32_000;

/** Fewer trials than these are done before a compiler is warm. */
const worthWarming = 50_000;

/** A simulation under way, as the thread sees it that has started it. */
export class SimulationRun {
  readonly task: SimulationTask;
  readonly plan: RunPlan;
  readonly buffers: RunBuffers;
  readonly unitsPerBreath: number;
  readonly #options: SimulationOptions;
  readonly #checked: CheckedTask;
  readonly #memory: RunMemory;
  readonly #store: RunStore;
  readonly #simulator: BlockSimulator;
  readonly #judge: StabilityJudge | undefined;

  /** @throws InputError options, model, inputs or correlations that make no simulation */
  constructor(task: SimulationTask, options: SimulationOptions) {
    this.task = task;
    this.#options = options;
    this.plan = runPlanOf(options, task.model.outputs.length);
    this.#checked = checkTask(task, options.adaptive !== undefined);
    this.#simulator = new BlockSimulator(this.#checked);
    this.#memory = borrowMemory(bytesOfValues(this.plan));
    this.buffers = makeBuffers(this.plan, this.#memory.values);
    this.#store = storeIn(this.buffers, this.plan);
    const { adaptive } = options;
    if (adaptive !== undefined) this.#judge = new StabilityJudge(this.plan, this.#store, adaptive.digits);
    this.unitsPerBreath = Math.max(1, Math.round(trialsPerBreath / trialsOfUnits(1, this.plan)));
    if (this.plan.trials >= worthWarming) warmUp(this.#checked);
  }

  /** Simulates the next unit, if there is one, and judges what has come in. */
  step(): boolean {
    const found = runNextUnit(this.#simulator, this.plan, this.#store);
    this.#judge?.advance();
    return found;
  }

  /** Lets every thread stop after the unit that it is at. */
  stop(): void {
    Atomics.store(this.#store.control, control.end, 0);
  }

  /** Says how far it is. */
  report(): void {
    this.#options.onProgress?.(this.#trialsDone(), this.plan.trials);
  }

  /** @throws MeltbookError the caller wants it stopped */
  throwIfAborted(): void {
    const { signal } = this.#options;
    if (signal?.aborted !== true) return;
    const message = `the simulation was stopped on request after ${this.#trialsDone()} trials`;
    throw new MeltbookError(message, 4, { cause: signal.reason });
  }

  /**
   * The result, when no thread works any more.
   *
   * @throws InputError a trial without a finite result
   */
  finish(): Simulation {
    this.#judge?.advance();
    const failed = Atomics.load(this.#store.control, control.failed);
    if (failed < unitsOf(this.plan) && this.#judge?.isStable !== true) this.#explain(failed);
    this.report();
    return summarize(this.#checked, this.#options, this.plan, this.#store, this.#judge, this.#memory.tails);
  }

  /** Gives its memory back, when no thread works any more. */
  release(): void {
    returnMemory(this.#memory);
  }

  #trialsDone(): number {
    return trialsOfUnits(Atomics.load(this.#store.control, control.done), this.plan);
  }

  #explain(unit: number): never {
    const first = unit * this.plan.blocksPerUnit;
    const end = Math.min(first + this.plan.blocksPerUnit, blocksOf(this.plan.trials));
    const moments = new Float64Array(momentsPerBlock(this.plan.outputs));
    for (let block = first; block < end; block++) {
      this.#simulator.simulate(block);
      const { results } = this.#simulator;
      if (!blockMoments(results, results[0]!.length, moments, 0)) this.#simulator.explain(block);
    }
    throw new InputError(`blocks ${first + 1} to ${end} of the simulation have no finite result`);
  }
}
