import type { CoverageInterval } from './coverage-interval.js';
import type { Histogram } from './histogram.js';

/** How a simulation is run. */
export interface SimulationOptions {
  /** Whole number of at least 0; the same seed gives the same figures to the last bit. */
  readonly seed: number;
  /** Fixed number of trials, 1 000 000 by default and 100/(1 − p) at least; not with `adaptive`. */
  readonly trials?: number;
  /** Goes on until the figures are stable (JCGM 101:2008, 7.9). */
  readonly adaptive?: AdaptiveOptions;
  /** 0.95 by default. */
  readonly coverageProbability?: number;
  /** Threads in all, 1 by default. No figure depends on it. */
  readonly workers?: number;
  /** Cells of the histogram, 60 by default. */
  readonly bins?: number;
  readonly onProgress?: (trialsDone: number, trialsPlanned: number) => void;
  readonly signal?: AbortSignal;
}

/** When an adaptive simulation may stop. */
export interface AdaptiveOptions {
  /** Significant digits of each standard uncertainty that shall be stable. */
  readonly digits: 1 | 2 | 3;
  /** The interval whose ends shall be stable. */
  readonly interval: 'symmetric' | 'shortest';
  /** Trials at most; 10 000 000 by default, fewer for more than 20 outputs. */
  readonly cap?: number;
}

/** What a simulation says of one output quantity, in its unit. */
export interface SimulatedOutput {
  readonly name: string;
  readonly description: string;
  readonly unit: string;
  /** Mean of the trials; their median where `standardUncertainty` is `null`. */
  readonly estimate: number;
  /** Standard deviation of the trials; `null` where none exists, since a t distribution with ν ≤ 2 enters: see `notes`. */
  readonly standardUncertainty: number | null;
  readonly symmetric: CoverageInterval;
  readonly shortest: CoverageInterval;
  readonly numericalStandardErrors: NumericalStandardErrors;
  readonly histogram: Histogram;
  readonly notes: readonly string[];
}

/** Standard deviations of the figures over simulations that differ in the seed alone, estimated from this one. */
export interface NumericalStandardErrors {
  readonly estimate: number;
  readonly standardUncertainty: number | null;
  readonly symmetricLow: number;
  readonly symmetricHigh: number;
  readonly shortestLow: number;
  readonly shortestHigh: number;
}

/** Result of a simulation. */
export interface Simulation {
  /** In the order of `model.outputs`. */
  readonly outputs: readonly SimulatedOutput[];
  /**
   * Covariance matrix of the outputs, in their order. `NaN` in the row and column of an output without a standard
   * uncertainty, which its notes explain.
   */
  readonly covariance: readonly (readonly number[])[];
  readonly trials: number;
  readonly seed: number;
  readonly coverageProbability: number;
  /** A fixed number of trials; stable figures; or the cap of an adaptive simulation, reached before they were stable. */
  readonly stopped: 'fixed' | 'stable' | 'cap';
  readonly notes: readonly string[];
}
