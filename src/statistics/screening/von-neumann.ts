import { InputError, requireFinite } from '../../errors.js';
import { compensatedDot } from '../descriptive/compensated-sum.js';
import { scaledDeviations } from '../descriptive/scaled-deviations.js';
import { incompleteBeta } from '../distributions/incomplete-beta.js';

/** Outcome of von Neumann's test. */
export interface VonNeumannTest {
  /** Σ (xᵢ₊₁ − xᵢ)² / Σ (xᵢ − x̄)²: 2 for a random order, less under drift, more under alternation. */
  readonly ratio: number;
  /** Probability of so small a ratio or a smaller one. */
  readonly pDrift: number;
  /** Two-sided p value. */
  readonly pValue: number;
  readonly n: number;
  readonly method: string;
  readonly notes: readonly string[];
}

/**
 * Von Neumann's ratio: are successive values closer to each other than a random order makes them?
 *
 * @param values n ≥ 4 finite values in order of time, not all equal
 * @returns the ratio; p values by a beta distribution of the same mean and variance, good to about two figures
 * @throws InputError fewer than four values, one that is not finite, or all values equal
 * @see von Neumann 1941, Ann. Math. Statist. 12, 367
 * @example
 * vonNeumannTest([1, 2, 3, 4]).ratio // => 0.6
 */
export function vonNeumannTest(values: ArrayLike<number>): VonNeumannTest {
  requireFinite(values, 'values', 4);
  const n = values.length;
  const { deviations } = scaledDeviations(values);
  const total = compensatedDot(deviations, deviations);
  if (total === 0) throw new InputError(`values: found ${n} equal values, expected some variation`);
  const steps = deviations.subarray(1).map((d, i) => d - deviations[i]!);
  const ratio = compensatedDot(steps, steps) / total;
  // ratio/4 runs from 0 to 1 about ½ with variance (n − 2)/(4(n² − 1)).
  const shape = ((n * n - 1) / (n - 2) - 1) / 2;
  const { lower, upper } = incompleteBeta(shape, shape, ratio / 4, 1 - ratio / 4);
  const method = 'von Neumann ratio, beta approximation';
  return { ratio, pDrift: lower, pValue: Math.min(1, 2 * Math.min(lower, upper)), n, method, notes: [] };
}
