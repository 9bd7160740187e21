/**
 * Lower triangular factor L of a positive semi-definite matrix, L·Lᵀ = matrix: independent standard quantities z make
 * correlated ones L·z. A column whose pivot is 0 but for rounding is 0.
 *
 * @param matrix symmetric, already found positive semi-definite (see `indexCorrelations`)
 * @example
 * choleskyFactor([[4, 2], [2, 5]])[1] // => [1, 2]
 */
export function choleskyFactor(matrix: readonly (readonly number[])[]): number[][] {
  const n = matrix.length;
  const factor: number[][] = matrix.map(() => new Array<number>(n).fill(0));
  for (let j = 0; j < n; j++) {
    let pivot = matrix[j]![j]!;
    for (let k = 0; k < j; k++) pivot -= factor[j]![k]! ** 2;
    if (pivot <= 1e-12 * matrix[j]![j]!) continue;
    const root = Math.sqrt(pivot);
    factor[j]![j] = root;
    for (let i = j + 1; i < n; i++) {
      let sum = matrix[i]![j]!;
      for (let k = 0; k < j; k++) sum -= factor[i]![k]! * factor[j]![k]!;
      factor[i]![j] = sum / root;
    }
  }
  return factor;
}
