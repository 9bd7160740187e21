import { type Jets, secondAt } from './jet.js';
import { log2Pi } from './likelihood.js';
import type { NestedPoint, NestedWorkspace } from './nested-workspace.js';

/**
 * From derivatives by the ratios γ_k = τ_k/σ² to those by the components τ_k and σ²:
 * −2 log likelihood = (n − 1)·log σ² + D(γ) + q(γ)/σ² + constant, D the log determinants and q the squares.
 */
export function componentPoint(theta: readonly number[], space: NestedWorkspace): NestedPoint {
  const { tree, K, logs, squares } = space;
  const s = theta[K]!;
  const freedom = tree.n - 1;
  const gradient = chainedGradient(logs, theta, K, 0);
  gradient[K]! += freedom / s;
  const ofSquares = chainedGradient(squares, theta, K, 1);
  // V is linear in the components, so the log determinants alone carry −tr(P·V_i·P·V_j).
  const expected = chainedSecond(logs, theta, K, 0, -1);
  expected[K]![K]! += freedom / (s * s);
  const observed = chainedSecond(squares, theta, K, 1, 1);
  for (let i = 0; i <= K; i++) {
    gradient[i]! += ofSquares[i]!;
    for (let j = 0; j <= K; j++) observed[i]![j]! -= expected[i]![j]!;
  }
  const inverse = space.inverse[0]!;
  return {
    value: freedom * (Math.log(s) + log2Pi) + logs[0]! + squares[0]! / s,
    gradient,
    observed,
    expected,
    mean: tree.grandMean + space.constants.mean + space.shift[0]![0]!,
    meanVariance: s * inverse[0]!,
    meanVarianceGradient: chainedGradient(inverse, theta, K, -1),
  };
}

/** First derivatives by the components of f(γ)/σ^(2m). */
function chainedGradient(f: Jets, theta: readonly number[], K: number, m: number): number[] {
  const s = theta[K]!;
  const scale = m === 0 ? 1 / s : m === 1 ? 1 / (s * s) : 1;
  const gradient: number[] = [];
  let along = m * f[0]!;
  for (let i = 0; i < K; i++) {
    gradient.push(f[i + 1]! * scale);
    along += (theta[i]! / s) * f[i + 1]!;
  }
  gradient.push(-along * scale);
  return gradient;
}

/** Second derivatives by the components of factor·f(γ)/σ^(2m), m 0 or 1. */
function chainedSecond(f: Jets, theta: readonly number[], K: number, m: number, factor: number): number[][] {
  const s = theta[K]!;
  const scale = m === 0 ? factor / (s * s) : factor / (s * s * s);
  const second: number[][] = [];
  const last: number[] = [];
  let corner = m * (m + 1) * f[0]!;
  for (let i = 0; i < K; i++) {
    const row: number[] = [];
    let mixed = (m + 1) * f[i + 1]!;
    corner += (theta[i]! / s) * mixed;
    for (let j = 0; j < K; j++) {
      const value = f[secondAt(i, j, K)]!;
      mixed += (theta[j]! / s) * value;
      row.push(value * scale);
    }
    corner += (theta[i]! / s) * mixed;
    row.push(-mixed * scale);
    last.push(-mixed * scale);
    second.push(row);
  }
  last.push(corner * scale);
  second.push(last);
  return second;
}
