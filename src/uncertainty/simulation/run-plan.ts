import { InputError, requireInteger, requireProbability } from '../../errors.js';
import { trialsPerBlock } from './draws/block-stream.js';
import { bytesOfValues, type RunPlan } from './run-store.js';
import type { SimulationOptions } from './simulation.js';
import { trialsPerSequence } from './stability.js';

/** Memory that the trials of a simulation may take: 1.6 GB, which are 2·10⁸ trials of one output. */
export const bytesAtMost = 1.6e9;

/** Cells of a histogram where none are asked for. */
export const defaultBins = 60;

/**
 * How a simulation is run, from its options.
 *
 * @param outputs number of output quantities
 * @throws InputError options that make no simulation, or one whose trials take too much memory
 */
export function runPlanOf(options: SimulationOptions, outputs: number): RunPlan {
  const { trials: fixed, adaptive, coverageProbability = 0.95, workers = 1, bins = defaultBins } = options;
  requireInteger(options.seed, 'seed', 0);
  requireProbability(coverageProbability, 'coverage probability');
  requireInteger(workers, 'workers', 1, 64);
  requireInteger(bins, 'bins', 1, 10_000);
  if (fixed !== undefined && adaptive !== undefined) {
    throw new InputError('found a number of trials and an adaptive simulation; expected one of the two');
  }
  const sequence = trialsPerSequence(coverageProbability);
  const least = adaptive === undefined ? leastTrials(coverageProbability) : 2 * sequence;
  const trials = adaptive === undefined ? (fixed ?? 1_000_000) : (adaptive.cap ?? 10_000_000);
  requireInteger(trials, adaptive === undefined ? 'trials' : 'cap of the trials', least);
  if (adaptive !== undefined) requireInteger(adaptive.digits, 'stable digits', 1, 3);
  const plan: RunPlan = {
    outputs,
    trials: adaptive === undefined ? trials : trials - (trials % sequence),
    blocksPerUnit: adaptive === undefined ? 1 : sequence / trialsPerBlock,
    coverageProbability,
    interval: adaptive?.interval ?? null,
  };
  requireMemory(plan);
  return plan;
}

/** So many that a hundred lie outside the interval, by which its ends are known at all. */
function leastTrials(coverageProbability: number): number {
  return Math.ceil(100 / Number((1 - coverageProbability).toPrecision(12)));
}

function requireMemory(plan: RunPlan): void {
  const bytes = bytesOfValues(plan);
  if (bytes <= bytesAtMost) return;
  const most = Math.floor(bytesAtMost / (8 * plan.outputs));
  throw new InputError(
    `found ${plan.trials} trials of ${plan.outputs} output(s), which take ${Math.ceil(bytes / 1e6)} MB; ` +
      `expected ${most} trials at most (${bytesAtMost / 1e6} MB)`,
  );
}
