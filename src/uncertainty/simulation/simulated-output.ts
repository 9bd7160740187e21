import type { ModelEquation } from '../measurement-model.js';
import { coverageIntervals } from './coverage-interval.js';
import type { DegreesOfFreedomEffect } from './effect-of-degrees-of-freedom.js';
import { type Histogram, histogramOf } from './histogram.js';
import { halfDistance, intervalStandardErrors } from './numerical-standard-errors.js';
import type { SimulatedOutput } from './simulation.js';
import type { TailMemory } from './sorted-tails.js';

/** What the trials of one output are judged by. */
export interface TrialsOfOutput {
  readonly equation: ModelEquation;
  readonly values: Float64Array;
  readonly mean: number;
  /** Sum of squares about the mean. */
  readonly squares: number;
  readonly effect: DegreesOfFreedomEffect;
}

/**
 * Estimate, standard uncertainty, both coverage intervals and histogram of one output from its trials, each with its
 * numerical standard error.
 *
 * @param bins cells of the histogram
 * @param memory for the tails of the trials
 * @see JCGM 101:2008, 7.6 and 7.7
 */
export function simulatedOutput(
  trials: TrialsOfOutput,
  coverageProbability: number,
  bins: number,
  memory: TailMemory,
): SimulatedOutput {
  const { equation, values, effect } = trials;
  const { name, description, unit } = equation;
  const { symmetric, shortest, tails } = coverageIntervals(values, coverageProbability, memory);
  const centre = effect.hasVariance ? byMoments(trials) : byMedian(values);
  return {
    name,
    description,
    unit,
    estimate: centre.estimate,
    standardUncertainty: centre.standardUncertainty,
    symmetric,
    shortest,
    numericalStandardErrors: {
      estimate: centre.errorOfEstimate,
      standardUncertainty: centre.errorOfUncertainty,
      ...intervalStandardErrors(tails, values.length, coverageProbability),
    },
    histogram: aroundInterval(values, symmetric.low, symmetric.high, bins),
    notes: effect.notes,
  };
}

interface Centre {
  readonly estimate: number;
  readonly standardUncertainty: number | null;
  readonly errorOfEstimate: number;
  readonly errorOfUncertainty: number | null;
}

function byMoments({ values, mean, squares }: TrialsOfOutput): Centre {
  const count = values.length;
  const variance = squares / (count - 1);
  const u = Math.sqrt(variance);
  // The variance of s² is (μ₄ − σ⁴)/M, and that of s a quarter of it over σ².
  const excess = u === 0 ? 0 : fourthMoment(values, mean, 1 / u) - 1;
  return {
    estimate: mean,
    standardUncertainty: u,
    errorOfEstimate: u / Math.sqrt(count),
    errorOfUncertainty: (u / 2) * Math.sqrt(Math.max(0, excess) / count),
  };
}

/** Mean of the fourth powers of the deviations in standard deviations. */
function fourthMoment(values: Float64Array, mean: number, scale: number): number {
  let [a, b] = [0, 0];
  let i = 0;
  for (; i + 1 < values.length; i += 2) {
    const x = (values[i]! - mean) * scale;
    const y = (values[i + 1]! - mean) * scale;
    const [xx, yy] = [x * x, y * y];
    a += xx * xx;
    b += yy * yy;
  }
  if (i < values.length) a += ((values[i]! - mean) * scale) ** 4;
  return (a + b) / values.length;
}

function byMedian(values: Float64Array): Centre {
  const sorted = Float64Array.from(values).sort();
  const middle = sorted.length >> 1;
  const median = sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
  return {
    estimate: median,
    standardUncertainty: null,
    errorOfEstimate: halfDistance(sorted, middle, Math.sqrt(sorted.length) / 2),
    errorOfUncertainty: null,
  };
}

/** The interval and half its width to both sides; a normal quantity has 1 trial in 11 000 beyond. */
function aroundInterval(values: Float64Array, low: number, high: number, bins: number): Histogram {
  const margin = (high - low) / 2;
  return histogramOf(values, low - margin, high + margin, bins);
}
