import { momentsPerBlock } from './blocks/block-moments.js';
import { trialsPerBlock } from './draws/block-stream.js';

/** Size and shape of a run: what each thread must know beside the task. */
export interface RunPlan {
  readonly outputs: number;
  /** Trials at most. */
  readonly trials: number;
  /** Blocks that one thread takes at a time: one, or a whole sequence of an adaptive simulation. */
  readonly blocksPerUnit: number;
  readonly coverageProbability: number;
  /** The interval whose ends are wanted of each unit; nothing where the number of trials is fixed. */
  readonly interval: 'symmetric' | 'shortest' | null;
}

/** Figures of each output that an adaptive simulation watches: mean, standard deviation, and the ends of the interval. */
export const figuresPerOutput = 4;

/** Places in the control words. */
export const control = { next: 0, end: 1, failed: 2, done: 3, words: 4 } as const;

/** Where the threads of a run leave their results; all of it can be shared. */
export interface RunStore {
  /** One array an output, in the order of the outputs. */
  readonly values: readonly Float64Array[];
  readonly moments: Float64Array;
  /** `figuresPerOutput` for each output of each unit. */
  readonly figures: Float64Array;
  /** Next unit to take, end of the units, first unit that failed, number of units done. */
  readonly control: Int32Array;
  /** 1 for each unit that is done. */
  readonly done: Int32Array;
}

/** Number of blocks of a run. */
export function blocksOf(trials: number): number {
  return Math.ceil(trials / trialsPerBlock);
}

/** Number of units of a run. */
export function unitsOf(plan: RunPlan): number {
  return Math.ceil(blocksOf(plan.trials) / plan.blocksPerUnit);
}

/** Trials of so many units. */
export function trialsOfUnits(units: number, plan: RunPlan): number {
  return Math.min(plan.trials, units * plan.blocksPerUnit * trialsPerBlock);
}

/** Trials of a block: the last one may be short. */
export function trialsOfBlock(block: number, trials: number): number {
  return Math.min(trialsPerBlock, trials - block * trialsPerBlock);
}

/** Bytes that the values of a run take. */
export function bytesOfValues(plan: Pick<RunPlan, 'trials' | 'outputs'>): number {
  return 8 * plan.trials * plan.outputs;
}

/** Buffers of a run, which threads share. */
export interface RunBuffers {
  readonly values: SharedArrayBuffer;
  readonly rest: SharedArrayBuffer;
}

/**
 * Buffers for a run; values may lie in a larger buffer of an earlier one, so that its memory is used again.
 */
export function makeBuffers(plan: RunPlan, values: SharedArrayBuffer): RunBuffers {
  const { moments, figures, words } = sizes(plan);
  const buffers = { values, rest: new SharedArrayBuffer(8 * (moments + figures) + 4 * words) };
  const store = storeIn(buffers, plan);
  store.control[control.end] = unitsOf(plan);
  store.control[control.failed] = unitsOf(plan);
  return buffers;
}

/** The store that lies in buffers. */
export function storeIn({ values, rest }: RunBuffers, plan: RunPlan): RunStore {
  const { moments, figures } = sizes(plan);
  const words = 8 * (moments + figures);
  return {
    values: Array.from(
      { length: plan.outputs },
      (_, o) => new Float64Array(values, 8 * o * plan.trials, plan.trials),
    ),
    moments: new Float64Array(rest, 0, moments),
    figures: new Float64Array(rest, 8 * moments, figures),
    control: new Int32Array(rest, words, control.words),
    done: new Int32Array(rest, words + 4 * control.words, unitsOf(plan)),
  };
}

function sizes(plan: RunPlan): { moments: number; figures: number; words: number } {
  const units = unitsOf(plan);
  return {
    moments: blocksOf(plan.trials) * momentsPerBlock(plan.outputs),
    figures: plan.interval === null ? 0 : units * plan.outputs * figuresPerOutput,
    words: control.words + units,
  };
}
