import { InputError } from '../../errors.js';

/** Scalar product. */
export function product(a: readonly number[], b: readonly number[]): number {
  return a.reduce((total, value, i) => total + value * b[i]!, 0);
}

/**
 * Lower triangular factor L of a symmetric positive definite matrix: matrix = L·Lᵀ.
 *
 * @throws InputError the matrix is not positive definite
 */
export function choleskyFactor(matrix: readonly (readonly number[])[]): number[][] {
  const factor = tryCholesky(matrix);
  if (!factor) throw new InputError('covariance matrix: found one that is not positive definite');
  return factor;
}

/** The same, or null where the matrix is not positive definite: the k-th pivot must exceed `least`. */
export function tryCholesky(matrix: readonly (readonly number[])[], least = 0): number[][] | null {
  const factor: number[][] = matrix.map(() => []);
  for (let i = 0; i < matrix.length; i++) {
    for (let j = 0; j <= i; j++) {
      let value = matrix[i]![j]!;
      for (let k = 0; k < j; k++) value -= factor[i]![k]! * factor[j]![k]!;
      if (i !== j) factor[i]![j] = value / factor[j]![j]!;
      else if (value > least) factor[i]![i] = Math.sqrt(value);
      else return null;
    }
  }
  return factor;
}

/** Solution x of L·Lᵀ·x = right. */
export function solveFactored(factor: readonly (readonly number[])[], right: readonly number[]): number[] {
  return backward(factor, forward(factor, right));
}

/** Inverse of L·Lᵀ. */
export function invertFactored(factor: readonly (readonly number[])[]): number[][] {
  return factor.map((_, k) =>
    solveFactored(
      factor,
      factor.map((__, i) => (i === k ? 1 : 0)),
    ),
  );
}

/** Solution of L·z = right. */
export function forward(factor: readonly (readonly number[])[], right: readonly number[]): number[] {
  const solution: number[] = [];
  for (let i = 0; i < right.length; i++) {
    let value = right[i]!;
    for (let k = 0; k < i; k++) value -= factor[i]![k]! * solution[k]!;
    solution.push(value / factor[i]![i]!);
  }
  return solution;
}

/** Solution of Lᵀ·z = right. */
export function backward(factor: readonly (readonly number[])[], right: readonly number[]): number[] {
  const solution = [...right];
  for (let i = right.length - 1; i >= 0; i--) {
    let value = solution[i]!;
    for (let k = i + 1; k < right.length; k++) value -= factor[k]![i]! * solution[k]!;
    solution[i] = value / factor[i]![i]!;
  }
  return solution;
}
