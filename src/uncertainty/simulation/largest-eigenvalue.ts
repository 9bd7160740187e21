/** Turns in which Jacobi's method is at its end for any matrix of a hundred rows. */
const mostSweeps = 30;

/**
 * Largest eigenvalue of a symmetric matrix, by Jacobi's rotations.
 *
 * @param matrix symmetric, one row at least
 * @see Golub and Van Loan 2013, Matrix Computations, 8.5
 * @example
 * largestEigenvalue([[2, 1], [1, 2]]) // => 3
 */
export function largestEigenvalue(matrix: readonly (readonly number[])[]): number {
  const a = matrix.map((row) => Float64Array.from(row));
  const n = a.length;
  for (let sweep = 0; sweep < mostSweeps; sweep++) {
    let rest = 0;
    for (let p = 0; p < n; p++) {
      for (let q = p + 1; q < n; q++) {
        rest = Math.max(rest, Math.abs(a[p]![q]!));
        if (a[p]![q] !== 0) rotate(a, p, q);
      }
    }
    if (rest < 1e-12 * Math.max(...a.map((row, i) => Math.abs(row[i]!)))) break;
  }
  return Math.max(...a.map((row, i) => row[i]!));
}

/** Rotation in the plane of p and q that makes their element 0. */
function rotate(a: readonly Float64Array[], p: number, q: number): void {
  const theta = (a[q]![q]! - a[p]![p]!) / (2 * a[p]![q]!);
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
}
