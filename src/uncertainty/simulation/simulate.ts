import type { Correlation, InputQuantity } from '../input-quantity.js';
import type { MeasurementModel } from '../measurement-model.js';
import { unitsOf } from './run-store.js';
import type { Simulation, SimulationOptions } from './simulation.js';
import { SimulationRun } from './simulation-run.js';
import type { Helpers } from './threads/helpers.js';

export type { CoverageInterval } from './coverage-interval.js';
export type { Histogram } from './histogram.js';
export type {
  AdaptiveOptions,
  NumericalStandardErrors,
  SimulatedOutput,
  Simulation,
  SimulationOptions,
} from './simulation.js';

/**
 * Propagation of distributions by simulation: estimates, standard uncertainties, coverage intervals and covariance of the
 * outputs of a measurement model.
 *
 * Each input draws from a stream of its own, named by seed, name of the input and block of trials. The figures depend on
 * nothing else: not on the number of threads, nor on the order of the inputs or correlations given. Renamed inputs draw
 * other numbers; a formula with its terms in another order rounds otherwise.
 *
 * @param model measurement model
 * @param inputs every quantity that the equations name and no other
 * @param correlations pairs with a correlation coefficient other than 0; for two t distributions that of their scale
 * matrix, and inputs of one `jointSource` have a joint multivariate t distribution
 * @param options seed, and how many trials
 * @returns a promise; it gives way to other work every few milliseconds
 * @throws InputError what `propagate` refuses; options that make no simulation; trials that take too much memory; a trial
 * without a finite result
 * @throws MeltbookError stopped by `options.signal`, or a thread that ended
 * @see JCGM 101:2008, 6.4, 7 (steps), 7.9 (adaptive); several outputs: JCGM 102:2011, 7
 */
export async function simulate(
  model: MeasurementModel,
  inputs: readonly InputQuantity[],
  correlations: readonly Correlation[],
  options: SimulationOptions,
): Promise<Simulation> {
  const run = new SimulationRun({ model, inputs, correlations, seed: options.seed }, options);
  let helpers: Helpers | undefined;
  try {
    run.throwIfAborted();
    helpers = await helpersOf(run, options.workers ?? 1);
    for (let unit = 1; run.step(); unit++) {
      if (unit % run.unitsPerBreath !== 0) continue;
      run.report();
      await breath();
      run.throwIfAborted();
      helpers?.throwIfFailed();
    }
    await helpers?.finished();
    run.throwIfAborted();
    return run.finish();
  } finally {
    run.stop();
    await helpers?.settled();
    run.release();
  }
}

/**
 * As `simulate`, at once and in this thread alone; the same figures to the last bit.
 *
 * @example
 * const model = { title: 'sum', equations: [{ name: 'y', description: '', unit: '1', expression: 'a + b' }], outputs: ['y'] };
 * const about = { description: '', unit: '1', degreesOfFreedom: Infinity, evaluation: 'B', sourceKind: 'certificate', source: '', step: '', withinPrecision: false };
 * const a = { ...about, name: 'a', estimate: 1, standardUncertainty: 3, distribution: { kind: 'normal' } };
 * const b = { ...about, name: 'b', estimate: 2, standardUncertainty: 4, distribution: { kind: 'normal' } };
 * simulateInThread(model, [a, b], [], { seed: 1, trials: 200000 }).outputs[0].standardUncertainty // => 5.0
 */
export function simulateInThread(
  model: MeasurementModel,
  inputs: readonly InputQuantity[],
  correlations: readonly Correlation[],
  options: SimulationOptions,
): Simulation {
  const run = new SimulationRun({ model, inputs, correlations, seed: options.seed }, options);
  try {
    run.throwIfAborted();
    for (let unit = 1; run.step(); unit++) {
      if (unit % run.unitsPerBreath !== 0) continue;
      run.report();
      run.throwIfAborted();
    }
    return run.finish();
  } finally {
    run.release();
  }
}

/** The program of threads takes time to load, and is only read where they are wanted. */
async function helpersOf(run: SimulationRun, threads: number): Promise<Helpers | undefined> {
  const count = Math.min(threads, unitsOf(run.plan)) - 1;
  if (count < 1) return undefined;
  const { Helpers: Made } = await import('./threads/helpers.js');
  return new Made(count, run);
}

function breath(): Promise<void> {
  return new Promise((resolve) => setImmediate(resolve));
}
