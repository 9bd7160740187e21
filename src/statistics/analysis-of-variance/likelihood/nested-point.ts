import { addLogarithm, addProduct, addScaled, type Jets, jetLength, setReciprocal } from './jet.js';
import { componentPoint } from './nested-components.js';
import { nestedShapes } from './nested-shapes.js';
import type { NestedTree } from './nested-tree.js';
import type { NestedPoint, NestedWorkspace } from './nested-workspace.js';

/** Evaluates a nested design at given components; keeps its working arrays between calls. */
export function nestedPoints(tree: NestedTree): (theta: readonly number[]) => NestedPoint {
  const K = tree.parents.length;
  const length = jetLength(K);
  const { sizes: cellSizes, depths } = nestedShapes(tree);
  const parents = depths[K - 1]!.shapeOf.length;
  // One buffer for all jets: many small ones would cost more than the arithmetic.
  let total = parents + 3;
  depths.forEach((depth, k) => {
    total += 2 * depth.multiplicity.length + (k < K ? depth.shapeOf.length : 0);
  });
  const buffer = new Float64Array(total * length);
  let used = 0;
  const jets = (count: number): Jets => {
    used += count * length;
    return buffer.subarray(used - count * length, used);
  };
  const space: NestedWorkspace = {
    tree,
    K,
    length,
    cellSizes,
    depths,
    precision: depths.map((depth) => jets(depth.multiplicity.length)),
    inverse: depths.map((depth) => jets(depth.multiplicity.length)),
    means: depths.slice(0, K).map((depth) => jets(depth.shapeOf.length)),
    first: jets(parents),
    work: jets(1),
    logs: jets(1),
    squares: jets(1),
    centres: new Array<number>(parents).fill(0),
    weights: new Array<number>(parents).fill(0),
  };
  return (theta) => evaluate(theta, space);
}

function evaluate(theta: readonly number[], space: NestedWorkspace): NestedPoint {
  const { tree, K, logs, squares } = space;
  const residual = theta[K]!;
  logs.fill(0);
  squares.fill(0);
  squares[0] = tree.within;
  cellPrecisions(theta[K - 1]! / residual, space);
  for (let k = K - 1; k >= 0; k--) {
    pooledPrecisions(k, k === 0 ? 0 : theta[k - 1]! / residual, space);
    if (k === K - 1) pooledCells(space);
    else pooledMeans(k, space);
  }
  return componentPoint(theta, space);
}

/** Precision n/(1 + nγ) of a cell mean, once a cell size; logs of 1 + nγ, once a cell. */
function cellPrecisions(ratio: number, space: NestedWorkspace): void {
  const { K, length, cellSizes, work, logs } = space;
  const precision = space.precision[K]!;
  const { multiplicity } = space.depths[K]!;
  for (let s = 0; s < cellSizes.length; s++) {
    const n = cellSizes[s]!;
    work.fill(0);
    work[0] = 1 / n + ratio;
    work[K] = 1;
    addLogarithm(logs, 0, work, 0, K, multiplicity[s]!);
    logs[0]! += multiplicity[s]! * Math.log(n);
    setReciprocal(precision, s * length, work, 0, K);
  }
}

/**
 * Precision A of the pooled mean of each shape of depth k as the sum of those below it, then with its own ratio γ
 * (parameter k − 1): 1/(1/A + γ), and log(1 + γA) = log A + log(1/A + γ). The whole has no component, only log A.
 */
function pooledPrecisions(k: number, ratio: number, space: NestedWorkspace): void {
  const { K, length, logs, work } = space;
  const { multiplicity, below } = space.depths[k]!;
  const lower = space.precision[k + 1]!;
  const precision = space.precision[k]!;
  const inverse = space.inverse[k]!;
  precision.fill(0);
  for (let h = 0; h < below.length; h++) {
    const at = h * length;
    for (const [shape, count] of below[h]!) addScaled(precision, at, lower, shape * length, count, length);
    addLogarithm(logs, 0, precision, at, K, multiplicity[h]!);
    setReciprocal(inverse, at, precision, at, K);
    if (k === 0) continue;
    for (let i = 0; i < length; i++) work[i] = inverse[at + i]!;
    work[0]! += ratio;
    work[k]! += 1;
    addLogarithm(logs, 0, work, 0, K, multiplicity[h]!);
    setReciprocal(precision, at, work, 0, K);
  }
}

/** Means of the classes that hold cells; cell means do not depend on the components. */
function pooledCells(space: NestedWorkspace): void {
  const { tree, K, length, first, squares, centres } = space;
  const precision = space.precision[K]!;
  const { shapeOf } = space.depths[K]!;
  const parent = tree.parents[K - 1]!;
  weightedCentres(K - 1, tree.means, 1, space);
  const bySize = new Array<number>(space.cellSizes.length).fill(0);
  for (let c = 0; c < parent.length; c++) {
    const deviation = tree.means[c]! - centres[parent[c]!]!;
    const shape = shapeOf[c]!;
    bySize[shape]! += deviation * deviation;
    addScaled(first, parent[c]! * length, precision, shape * length, deviation, length);
  }
  for (let s = 0; s < bySize.length; s++) addScaled(squares, 0, precision, s * length, bySize[s]!, length);
  finishMeans(K - 1, space);
}

/** Means of the classes of depth k from those one level down; their squared deviations are added to `squares`. */
function pooledMeans(k: number, space: NestedWorkspace): void {
  const { tree, K, length, first, squares, work, centres } = space;
  const parent = tree.parents[k]!;
  const precision = space.precision[k + 1]!;
  const mean = space.means[k + 1]!;
  const { shapeOf } = space.depths[k + 1]!;
  weightedCentres(k, mean, length, space);
  for (let c = 0; c < parent.length; c++) {
    const at = c * length;
    // Deviations about the pooled value: derivatives are those of the mean, and nothing large is subtracted.
    mean[at]! -= centres[parent[c]!]!;
    work.fill(0);
    addProduct(work, 0, precision, shapeOf[c]! * length, mean, at, 1, K);
    addScaled(first, parent[c]! * length, work, 0, 1, length);
    addProduct(squares, 0, work, 0, mean, at, 1, K);
  }
  finishMeans(k, space);
}

/** Value of the pooled mean of each class of depth k, from means that lie `stride` apart; empties the sums of its classes. */
function weightedCentres(k: number, means: ArrayLike<number>, stride: number, space: NestedWorkspace): void {
  const { tree, length, centres, weights, first } = space;
  const parent = tree.parents[k]!;
  const precision = space.precision[k + 1]!;
  const { shapeOf } = space.depths[k + 1]!;
  const count = space.depths[k]!.shapeOf.length;
  first.fill(0, 0, count * length);
  for (let c = 0; c < count; c++) {
    centres[c] = 0;
    weights[c] = 0;
  }
  for (let c = 0; c < parent.length; c++) {
    const p = precision[shapeOf[c]! * length]!;
    weights[parent[c]!]! += p;
    centres[parent[c]!]! += p * means[c * stride]!;
  }
  for (let c = 0; c < count; c++) centres[c]! /= weights[c]!;
}

/** Pooled means B/A about their centres; the squares lose B²/A, whose value is 0 but not its derivatives. */
function finishMeans(k: number, space: NestedWorkspace): void {
  const { K, length, first, squares, centres } = space;
  const { shapeOf } = space.depths[k]!;
  const inverse = space.inverse[k]!;
  const mean = space.means[k]!;
  mean.fill(0);
  for (let c = 0; c < shapeOf.length; c++) {
    const at = c * length;
    addProduct(mean, at, first, at, inverse, shapeOf[c]! * length, 1, K);
    addProduct(squares, 0, first, at, mean, at, -1, K);
    mean[at]! += centres[c]!;
  }
}
