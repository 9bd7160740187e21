import type { NestedTree } from './nested-tree.js';

/**
 * Components to begin the likelihood with: by expected mean squares, raised to a small share of the residual where they come
 * out near or below 0.
 */
export function nestedStart(tree: NestedTree): number[] {
  const depth = tree.parents.length;
  const residual = tree.within / (tree.n - tree.sizes.length);
  const components = new Array<number>(depth).fill(0);
  let sizes = tree.sizes;
  let means = tree.means;
  // squares[j][c]: sum of the squared sizes of the classes of depth j within class c of the depth at hand.
  const squares: number[][] = new Array(depth);
  for (let k = depth - 1; k >= 0; k--) {
    const parent = tree.parents[k]!;
    const count = k === 0 ? 1 : tree.parents[k - 1]!.length;
    squares[k] = sizes.map((size) => size * size);
    const above = poolBySize(sizes, means, parent, count);
    let sum = 0;
    for (let c = 0; c < sizes.length; c++) sum += sizes[c]! * (means[c]! - above.means[parent[c]!]!) ** 2;
    const df = sizes.length - count;
    let rest = sum - df * residual;
    let own = 0;
    for (let j = depth - 1; j >= k; j--) {
      const inner = shares(squares[j]!, sizes);
      squares[j] = sumByParent(squares[j]!, parent, count);
      const coefficient = inner - shares(squares[j]!, above.sizes);
      if (j === k) own = coefficient;
      else rest -= coefficient * components[j]!;
    }
    components[k] = Math.max(rest / own, 0.05 * residual);
    sizes = above.sizes;
    means = above.means;
  }
  return [...components, residual];
}

function poolBySize(
  sizes: readonly number[],
  means: readonly number[],
  parent: readonly number[],
  count: number,
): { sizes: number[]; means: number[] } {
  const pooled = new Array<number>(count).fill(0);
  const sums = new Array<number>(count).fill(0);
  for (let c = 0; c < sizes.length; c++) {
    pooled[parent[c]!]! += sizes[c]!;
    sums[parent[c]!]! += sizes[c]! * means[c]!;
  }
  for (let c = 0; c < count; c++) sums[c]! /= pooled[c]!;
  return { sizes: pooled, means: sums };
}

function sumByParent(values: readonly number[], parent: readonly number[], count: number): number[] {
  const sums = new Array<number>(count).fill(0);
  for (let c = 0; c < values.length; c++) sums[parent[c]!]! += values[c]!;
  return sums;
}

function shares(squares: readonly number[], sizes: readonly number[]): number {
  let total = 0;
  for (let c = 0; c < sizes.length; c++) total += squares[c]! / sizes[c]!;
  return total;
}
