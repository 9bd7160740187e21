import { InputError, requireFinite } from '../../errors.js';

/** Eigenvalues in falling order, each with its eigenvector of length 1. */
export interface SymmetricEigen {
  readonly values: readonly number[];
  readonly vectors: readonly (readonly number[])[];
}

const mostSweeps = 60;

/**
 * Eigenvalues and eigenvectors of a symmetric matrix by Jacobi's rotations: slow for large matrices, accurate for small ones.
 *
 * @throws InputError a matrix that is not square, not symmetric or not finite
 * @see Golub and Van Loan 2013, Matrix Computations, 4th ed., 8.5 (section from memory)
 * @example
 * symmetricEigen([[2, 1], [1, 2]]).values.map((v) => v.toFixed(6)) // => ["3.000000", "1.000000"]
 */
export function symmetricEigen(matrix: readonly (readonly number[])[]): SymmetricEigen {
  const n = matrix.length;
  matrix.forEach((row, i) => {
    requireFinite(row, `row ${i + 1} of the matrix`);
    if (row.length !== n) throw new InputError(`matrix: found ${row.length} columns, expected ${n}`);
    row.forEach((value, j) => {
      const scale = Math.sqrt(Math.abs(matrix[i]![i]! * matrix[j]![j]!)) + Math.abs(value);
      if (Math.abs(value - matrix[j]![i]!) > 1e-9 * scale) {
        throw new InputError(`matrix: found ${value} and ${matrix[j]![i]}, expected a symmetric matrix`);
      }
    });
  });
  const a = matrix.map((row) => [...row]);
  const v = matrix.map((_, i) => matrix.map((__, j) => (i === j ? 1 : 0)));
  for (let sweep = 0; sweep < mostSweeps && !isDiagonal(a); sweep++) {
    for (let p = 0; p < n - 1; p++) for (let q = p + 1; q < n; q++) rotate(a, v, p, q);
  }
  const order = a.map((_, i) => i).sort((i, j) => a[j]![j]! - a[i]![i]!);
  return {
    values: order.map((i) => a[i]![i]!),
    vectors: order.map((i) => v.map((row) => row[i]!)),
  };
}

function isDiagonal(a: readonly (readonly number[])[]): boolean {
  let off = 0;
  let on = 0;
  a.forEach((row, i) => {
    row.forEach((value, j) => {
      if (i === j) on += value * value;
      else off += value * value;
    });
  });
  return off <= 1e-32 * on;
}

/** One rotation that makes the element at p, q vanish. */
function rotate(a: number[][], v: number[][], p: number, q: number): void {
  const apq = a[p]![q]!;
  if (apq === 0) return;
  const theta = (a[q]![q]! - a[p]![p]!) / (2 * apq);
  const t = Math.sign(theta || 1) / (Math.abs(theta) + Math.sqrt(theta * theta + 1));
  const c = 1 / Math.sqrt(t * t + 1);
  const s = t * c;
  for (const row of a) {
    const [x, y] = [row[p]!, row[q]!];
    row[p] = c * x - s * y;
    row[q] = s * x + c * y;
  }
  for (let k = 0; k < a.length; k++) {
    const [x, y] = [a[p]![k]!, a[q]![k]!];
    a[p]![k] = c * x - s * y;
    a[q]![k] = s * x + c * y;
  }
  for (const row of v) {
    const [x, y] = [row[p]!, row[q]!];
    row[p] = c * x - s * y;
    row[q] = s * x + c * y;
  }
}
