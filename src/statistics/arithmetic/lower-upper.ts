import { InputError } from '../../errors.js';

/** Factors of a square matrix with row exchanges: rows hold L below and U on and above the diagonal. */
export interface LowerUpper {
  readonly rows: readonly Float64Array[];
  readonly order: Int32Array;
  /** log |det|. */
  readonly logDeterminant: number;
}

/** @throws InputError the matrix is singular */
export function factorLowerUpper(matrix: readonly Float64Array[]): LowerUpper {
  const n = matrix.length;
  const rows = matrix.map((row) => Float64Array.from(row));
  const order = Int32Array.from({ length: n }, (_, i) => i);
  let logDeterminant = 0;
  for (let k = 0; k < n; k++) {
    let best = k;
    for (let i = k + 1; i < n; i++) if (Math.abs(rows[i]![k]!) > Math.abs(rows[best]![k]!)) best = i;
    [rows[k], rows[best]] = [rows[best]!, rows[k]!];
    [order[k], order[best]] = [order[best]!, order[k]!];
    const top = rows[k]!;
    const pivot = top[k]!;
    if (pivot === 0) throw new InputError('matrix: found a singular one');
    logDeterminant += Math.log(Math.abs(pivot));
    for (let i = k + 1; i < n; i++) {
      const row = rows[i]!;
      const factor = row[k]! / pivot;
      row[k] = factor;
      if (factor !== 0) for (let j = k + 1; j < n; j++) row[j]! -= factor * top[j]!;
    }
  }
  return { rows, order, logDeterminant };
}

/** Solution of matrix·x = right. */
export function solveLowerUpper(factors: LowerUpper, right: ArrayLike<number>): Float64Array {
  const { rows, order } = factors;
  const n = rows.length;
  const x = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const row = rows[i]!;
    let value = right[order[i]!]!;
    for (let k = 0; k < i; k++) value -= row[k]! * x[k]!;
    x[i] = value;
  }
  for (let i = n - 1; i >= 0; i--) {
    const row = rows[i]!;
    let value = x[i]!;
    for (let k = i + 1; k < n; k++) value -= row[k]! * x[k]!;
    x[i] = value / row[i]!;
  }
  return x;
}
