import { InputError, requireInteger, requireProbability } from '../../errors.js';
import { trialsPerBlock } from './draws/block-stream.js';
import { bytesOfValues, type RunPlan } from './run-store.js';
import type { AdaptiveOptions, SimulationOptions } from './simulation.js';
import { trialsPerSequence } from './stability.js';

/** Memory that the trials of a simulation may take: 1.6 GB, which are 2·10⁸ trials of one output. */
export const bytesAtMost = 1.6e9;

/** Cells of a histogram where none are asked for. */
export const defaultBins = 60;

/** Trials of an adaptive simulation at most, where no cap is stated; fewer where they would take too much memory. */
const defaultCap = 10_000_000;

/**
 * How a simulation is run, from its options.
 *
 * @param outputs number of output quantities
 * @throws InputError options that make no simulation, or one whose trials take too much memory
 */
export function runPlanOf(options: SimulationOptions, outputs: number): RunPlan {
  const { trials, adaptive, coverageProbability = 0.95, workers = 1, bins = defaultBins } = options;
  requireInteger(options.seed, 'seed', 0);
  requireProbability(coverageProbability, 'coverage probability');
  requireInteger(workers, 'workers', 1, 64);
  requireInteger(bins, 'bins', 1, 10_000);
  if (adaptive === undefined) {
    const fixed = trials ?? 1_000_000;
    requireInteger(fixed, 'trials', leastTrials(coverageProbability));
    return requireMemory({ outputs, trials: fixed, blocksPerUnit: 1, coverageProbability, interval: null });
  }
  if (trials !== undefined) {
    throw new InputError('found a number of trials and an adaptive simulation; expected one of the two');
  }
  return adaptivePlan(adaptive, outputs, coverageProbability);
}

function adaptivePlan(adaptive: AdaptiveOptions, outputs: number, coverageProbability: number): RunPlan {
  const { digits, interval } = adaptive;
  requireInteger(digits, 'stable digits', 1, 3);
  if (interval !== 'symmetric' && interval !== 'shortest') {
    throw new InputError(`stable interval: found "${String(interval)}", expected symmetric or shortest`);
  }
  const sequence = trialsPerSequence(coverageProbability);
  const cap = adaptive.cap ?? Math.min(defaultCap, mostTrials(outputs));
  requireInteger(cap, 'cap of the trials', 2 * sequence);
  return requireMemory({
    outputs,
    trials: cap - (cap % sequence),
    blocksPerUnit: sequence / trialsPerBlock,
    coverageProbability,
    interval,
  });
}

/** So many that a hundred lie outside the interval, by which its ends are known at all. */
function leastTrials(coverageProbability: number): number {
  return Math.ceil(100 / Number((1 - coverageProbability).toPrecision(12)));
}

function mostTrials(outputs: number): number {
  return Math.floor(bytesAtMost / (8 * outputs));
}

function requireMemory(plan: RunPlan): RunPlan {
  const { trials, outputs } = plan;
  if (trials <= mostTrials(outputs)) return plan;
  throw new InputError(
    `found ${trials} trials of ${outputs} output(s), which take ${Math.ceil(bytesOfValues(plan) / 1e6)} MB; ` +
      `expected ${mostTrials(outputs)} trials at most (${bytesAtMost / 1e6} MB)`,
  );
}
