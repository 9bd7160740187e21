import { combineMoments, momentsPerBlock } from './blocks/block-moments.js';
import { effectOfDegreesOfFreedom } from './effect-of-degrees-of-freedom.js';
import { defaultBins } from './run-plan.js';
import { blocksOf, type RunPlan, type RunStore, trialsOfBlock } from './run-store.js';
import { simulatedOutput } from './simulated-output.js';
import type { Simulation, SimulationOptions } from './simulation.js';
import type { CheckedTask } from './simulation-task.js';
import type { TailMemory } from './sorted-tails.js';
import type { StabilityJudge } from './stability.js';

/**
 * The result of a run whose units are done.
 *
 * @param judge of an adaptive simulation
 * @param memory for the tails of the trials
 * @throws InputError an output that cannot be judged
 */
export function summarize(
  checked: CheckedTask,
  options: SimulationOptions,
  plan: RunPlan,
  store: RunStore,
  judge: StabilityJudge | undefined,
  memory: TailMemory,
): Simulation {
  const trials = judge === undefined ? plan.trials : judge.trials;
  const blocks = blocksOf(trials);
  const counts = Array.from({ length: blocks }, (_, block) => trialsOfBlock(block, trials));
  const size = momentsPerBlock(plan.outputs);
  const { means, products } = combineMoments(store.moments.subarray(0, blocks * size), counts, plan.outputs);
  const { ready, inputs } = checked;
  const outputs = ready.outputEquations.map((equation, o) =>
    simulatedOutput(
      {
        equation: ready.model.equations[equation]!,
        values: store.values[o]!.subarray(0, trials),
        mean: means[o]!,
        squares: products[o]![o]!,
        effect: effectOfDegreesOfFreedom(ready.program, inputs, ready.program.results[equation]!),
      },
      plan.coverageProbability,
      options.bins ?? defaultBins,
      memory,
    ),
  );
  const exists = outputs.map(({ standardUncertainty }) => standardUncertainty !== null);
  return {
    outputs,
    covariance: products.map((row, i) =>
      Array.from(row, (product, j) => (exists[i] && exists[j] ? product / (trials - 1) : Number.NaN)),
    ),
    trials,
    seed: options.seed,
    coverageProbability: plan.coverageProbability,
    stopped: stopOf(judge),
    notes: notesOf(trials, plan, options, judge),
  };
}

function stopOf(judge: StabilityJudge | undefined): Simulation['stopped'] {
  if (judge === undefined) return 'fixed';
  return judge.isStable ? 'stable' : 'cap';
}

function notesOf(
  trials: number,
  plan: RunPlan,
  { adaptive }: SimulationOptions,
  judge: StabilityJudge | undefined,
): string[] {
  if (judge !== undefined && adaptive !== undefined) {
    const digits = `${adaptive.digits} significant digit${adaptive.digits === 1 ? '' : 's'} of u`;
    return judge.isStable
      ? [
          `after ${trials} trials estimate, u and the ends of the ${adaptive.interval} interval are stable to ${digits}`,
        ]
      : [
          `the cap of ${trials} trials was reached before all figures were stable to ${digits}: see the standard errors`,
        ];
  }
  const wanted = Math.round(1e4 / (1 - plan.coverageProbability));
  return trials < wanted
    ? [
        `${trials} trials are fewer than the ${wanted} (10⁴/(1 − p)) that give an interval to about two digits`,
      ]
    : [];
}
