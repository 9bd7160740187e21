import type { Calibration, SignalModel } from '../chain/calibration.js';
import type { MeasuredSolution } from './measured-solutions.js';

/**
 * How far readings of solutions of one kind scatter: what they show as a factor of what the plan's signal model says, so that
 * solutions with much and with next to nothing of the analyte pool into one figure.
 */
export interface ReadingNoise {
  /** Observed standard deviation of one reading ÷ that of the signal model. */
  readonly factor: number;
  readonly degreesOfFreedom: number;
}

/** What the readings of a solution add to its noise: observed over modelled variance, weighted by degrees of freedom. */
export interface NoiseSums {
  squares: number;
  degreesOfFreedom: number;
}

/**
 * Standard deviation of a ratio by the signal model √(floor² + (relative·x)²), which holds for contents x: taken to the ratio by the
 * slope of the run's calibration. Above 0 for every ratio, so also for a blank's.
 *
 * @param signalPerRatio signal the calibration is fitted on ÷ ratio: the dose of the internal standard where that is known from masses
 */
export function modelledDeviation(
  { floor, relative }: SignalModel,
  { intercept, slope }: Pick<Calibration, 'intercept' | 'slope'>,
  ratio: number,
  signalPerRatio = 1,
): number {
  const content = (ratio * signalPerRatio - intercept) / slope;
  return (slope * Math.sqrt(floor * floor + (relative * content) ** 2)) / signalPerRatio;
}

/**
 * Noise pooled over solutions.
 *
 * @param modelled standard deviation of one reading of a solution by the model
 * @returns null where no solution has two readings
 * @see JCGM 100:2008 (GUM), 4.2.4 (pooled estimate of variance)
 */
export function pooledNoise(
  solutions: readonly MeasuredSolution[],
  modelled: (solution: MeasuredSolution) => number,
): ReadingNoise | null {
  const sums: NoiseSums = { squares: 0, degreesOfFreedom: 0 };
  for (const solution of solutions) {
    if (solution.readingStandardDeviation === null) continue;
    const nu = solution.ratios.length - 1;
    sums.squares += nu * (solution.readingStandardDeviation / modelled(solution)) ** 2;
    sums.degreesOfFreedom += nu;
  }
  return noiseOf(sums);
}

/** @returns null without a degree of freedom */
export function noiseOf({ squares, degreesOfFreedom }: NoiseSums): ReadingNoise | null {
  return degreesOfFreedom === 0 ? null : { factor: Math.sqrt(squares / degreesOfFreedom), degreesOfFreedom };
}
