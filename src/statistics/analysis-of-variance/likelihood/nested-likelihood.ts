import { type Likelihood, log2Pi } from './likelihood.js';
import { nestedPoints } from './nested-point.js';
import type { NestedTree } from './nested-tree.js';
import type { NestedPoint } from './nested-workspace.js';

/**
 * Restricted likelihood of a nested design with a common mean, by closed-form elimination from within: a class of precision P
 * (of its mean) and variance component τ keeps its mean and gets precision P/(1 + τP); classes of one parent are pooled by
 * weight. Every term added is positive, so nothing cancels. Time grows with the number of classes, not with its cube.
 *
 * @see Searle, Casella and McCulloch, Variance Components, 1992, 6.6; Patterson and Thompson 1971, Biometrika 58, 545
 */
export function nestedLikelihood(tree: NestedTree): Likelihood<NestedPoint> {
  const components = tree.parents.length + 1;
  return {
    components,
    valueAt: (theta) => nestedValue(tree, theta),
    at: nestedPoints(tree),
  };
}

function nestedValue(tree: NestedTree, theta: readonly number[]): number {
  const depth = tree.parents.length;
  const residual = theta[depth]!;
  let precision = tree.sizes.map((size) => size / residual);
  let means = tree.means;
  let logs = tree.n * Math.log(residual);
  let squares = tree.within / residual;
  for (let k = depth - 1; k >= 0; k--) {
    const tau = theta[k]!;
    const parent = tree.parents[k]!;
    const count = k === 0 ? 1 : tree.parents[k - 1]!.length;
    const pooled = new Array<number>(count).fill(0);
    const pooledMeans = new Array<number>(count).fill(0);
    for (let c = 0; c < precision.length; c++) {
      const spread = 1 + tau * precision[c]!;
      logs += Math.log(spread);
      precision[c]! /= spread;
      pooled[parent[c]!]! += precision[c]!;
      pooledMeans[parent[c]!]! += precision[c]! * means[c]!;
    }
    for (let c = 0; c < count; c++) pooledMeans[c]! /= pooled[c]!;
    for (let c = 0; c < precision.length; c++) {
      squares += precision[c]! * (means[c]! - pooledMeans[parent[c]!]!) ** 2;
    }
    precision = pooled;
    means = pooledMeans;
  }
  return logs + Math.log(precision[0]!) + squares + (tree.n - 1) * log2Pi;
}
