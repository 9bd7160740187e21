import { symmetricEigen } from '../../statistics/arithmetic/symmetric-eigen.js';

/** A covariance matrix as loads on independent sources: matrix = Σ_k load_k·load_kᵀ. */
export interface CovarianceLoads {
  /** One row an analyte, one column a source. */
  readonly loads: readonly (readonly number[])[];
  /** Share of the variances that was below zero in some direction and is held at 0. */
  readonly heldAtZero: number;
}

/**
 * Loads of a covariance matrix. A difference of two estimated matrices can be negative in some directions; there the variance is
 * held at 0, as a single variance component is, and the share tells how much that was. The variances of the single analytes stay as
 * they were estimated (a negative one becomes 0): what was cut off must not make them larger.
 *
 * @throws InputError a matrix that is not symmetric
 * @see Amemiya 1985, Am. Stat. 39, 112 (nonnegative definite estimates of covariance components; from memory)
 */
export function covarianceLoads(matrix: readonly (readonly number[])[]): CovarianceLoads {
  const { values, vectors } = symmetricEigen(matrix);
  const kept = values.flatMap((value, k) => (value > 0 ? [k] : []));
  const loads = matrix.map((row, a) => {
    const cut = kept.map((k) => vectors[k]![a]! * Math.sqrt(values[k]!));
    const length = Math.hypot(...cut);
    const wanted = Math.sqrt(Math.max(0, row[a]!));
    return cut.map((load) => (length === 0 ? 0 : (load * wanted) / length));
  });
  const below = values.reduce((sum, value) => sum + Math.max(0, -value), 0);
  const size = values.reduce((sum, value) => sum + Math.abs(value), 0);
  return { loads, heldAtZero: size === 0 ? 0 : below / size };
}
