import { InputError } from '../../errors.js';
import {
  add,
  type DoubleDouble,
  divide,
  multiply,
  narrow,
  one,
  square,
  squareRoot,
  subtract,
  wide,
  zero,
} from '../arithmetic/double-double.js';

/** Solution of a linear least-squares problem in 106-bit arithmetic. */
export interface LeastSquaresSolution {
  readonly coefficients: readonly DoubleDouble[];
  /** (XᵀWX)⁻¹: times the residual variance, the covariance of the coefficients. */
  readonly inverseNormalMatrix: readonly (readonly DoubleDouble[])[];
  readonly residuals: readonly DoubleDouble[];
  readonly leverages: readonly DoubleDouble[];
  /** Σ w·residual². */
  readonly residualSumOfSquares: DoubleDouble;
}

/**
 * Weighted linear least squares by modified Gram–Schmidt, each column orthogonalised twice, in 106-bit arithmetic: columns
 * of powers stay usable up to condition numbers near 1e28.
 *
 * @param columns p columns of n values each, p ≤ n
 * @param y n responses
 * @param weights n positive weights
 * @throws InputError columns that depend on each other linearly
 * @see Björck, Numerical Methods for Least Squares Problems, 1996, 2.4
 */
export function leastSquares(
  columns: readonly (readonly DoubleDouble[])[],
  y: readonly number[],
  weights: readonly number[],
): LeastSquaresSolution {
  const w = weights.map(wide);
  const { q, r } = orthogonalise(columns, w);
  const p = columns.length;
  let residuals = y.map(wide);
  const z: DoubleDouble[] = q.map(() => zero);
  for (let pass = 0; pass < 2; pass++) {
    q.forEach((column, k) => {
      const part = weightedDot(column, residuals, w);
      z[k] = add(z[k]!, part);
      residuals = minusMultiple(residuals, part, column);
    });
  }
  const inverse = invertUpper(r);
  const coefficients = inverse.map((row) => plainDot(row, z));
  const inverseNormalMatrix = inverse.map((row) => inverse.map((other) => plainDot(row, other)));
  const leverages = w.map((weight, i) => {
    let total = zero;
    for (let k = 0; k < p; k++) total = add(total, square(q[k]![i]!));
    return multiply(weight, total);
  });
  const rss = weightedDot(residuals, residuals, w);
  return { coefficients, inverseNormalMatrix, residuals, leverages, residualSumOfSquares: rss };
}

function orthogonalise(
  columns: readonly (readonly DoubleDouble[])[],
  w: readonly DoubleDouble[],
): { q: DoubleDouble[][]; r: DoubleDouble[][] } {
  const p = columns.length;
  const q: DoubleDouble[][] = [];
  const r = columns.map(() => new Array<DoubleDouble>(p).fill(zero));
  columns.forEach((column, k) => {
    let v = [...column];
    const length = narrow(weightedDot(v, v, w));
    for (let pass = 0; pass < 2; pass++) {
      for (let j = 0; j < k; j++) {
        const part = weightedDot(q[j]!, v, w);
        r[j]![k] = add(r[j]![k]!, part);
        v = minusMultiple(v, part, q[j]!);
      }
    }
    const left = weightedDot(v, v, w);
    if (!(narrow(left) > length * 1e-56)) {
      throw new InputError(`column ${k + 1}: found a linear combination of the columns before it`);
    }
    const norm = squareRoot(left);
    r[k]![k] = norm;
    q.push(v.map((value) => divide(value, norm)));
  });
  return { q, r };
}

function weightedDot(
  a: readonly DoubleDouble[],
  b: readonly DoubleDouble[],
  w: readonly DoubleDouble[],
): DoubleDouble {
  let total = zero;
  for (let i = 0; i < a.length; i++) total = add(total, multiply(w[i]!, multiply(a[i]!, b[i]!)));
  return total;
}

function plainDot(a: readonly DoubleDouble[], b: readonly DoubleDouble[]): DoubleDouble {
  let total = zero;
  for (let i = 0; i < a.length; i++) total = add(total, multiply(a[i]!, b[i]!));
  return total;
}

function minusMultiple(
  a: readonly DoubleDouble[],
  factor: DoubleDouble,
  b: readonly DoubleDouble[],
): DoubleDouble[] {
  return a.map((value, i) => subtract(value, multiply(factor, b[i]!)));
}

/** Inverse of an upper triangular matrix. */
function invertUpper(r: readonly (readonly DoubleDouble[])[]): DoubleDouble[][] {
  const p = r.length;
  const inverse = r.map(() => new Array<DoubleDouble>(p).fill(zero));
  for (let column = 0; column < p; column++) {
    inverse[column]![column] = divide(one, r[column]![column]!);
    for (let row = column - 1; row >= 0; row--) {
      let total = zero;
      for (let k = row + 1; k <= column; k++) {
        total = add(total, multiply(r[row]![k]!, inverse[k]![column]!));
      }
      inverse[row]![column] = divide(subtract(zero, total), r[row]![row]!);
    }
  }
  return inverse;
}
