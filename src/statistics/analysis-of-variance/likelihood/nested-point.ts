import { addLogarithm, addProduct, addScaled, setReciprocal } from './jet.js';
import { componentPoint } from './nested-components.js';
import type { NestedTree } from './nested-tree.js';
import { type NestedPoint, type NestedWorkspace, nestedWorkspace } from './nested-workspace.js';

/** Evaluates a nested design at given components; keeps its working arrays between calls. */
export function nestedPoints(tree: NestedTree): (theta: readonly number[]) => NestedPoint {
  const space = nestedWorkspace(tree);
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
    pooledShifts(k, space);
  }
  return componentPoint(theta, space);
}

/** Precision n/(1 + nγ) of a cell mean, once a cell size; logs of 1 + nγ, once a cell. */
function cellPrecisions(ratio: number, space: NestedWorkspace): void {
  const { K, length, work, logs } = space;
  const { cellSizes, shapes } = space.constants;
  const precision = space.precision[K]!;
  const { multiplicity } = shapes[K]!;
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
  const { multiplicity, below } = space.constants.shapes[k]!;
  const lower = space.precision[k + 1]!;
  const pooled = space.pooled[k]!;
  const inverse = space.inverse[k]!;
  pooled.fill(0);
  for (let h = 0; h < below.length; h++) {
    const at = h * length;
    for (const [shape, count] of below[h]!) addScaled(pooled, at, lower, shape * length, count, length);
    addLogarithm(logs, 0, pooled, at, K, multiplicity[h]!);
    setReciprocal(inverse, at, pooled, at, K);
    if (k === 0) continue;
    for (let i = 0; i < length; i++) work[i] = inverse[at + i]!;
    work[0]! += ratio;
    work[k]! += 1;
    addLogarithm(logs, 0, work, 0, K, multiplicity[h]!);
    setReciprocal(space.precision[k]!, at, work, 0, K);
  }
}

/**
 * Shift of the pooled mean of each class of depth k from its plain mean, and the squares of the classes below about the pooled
 * means: Σ P·(δ + m)² − A·M², with δ the constant and m the variable part of a class below, M the shift of its parent.
 */
function pooledShifts(k: number, space: NestedWorkspace): void {
  const { K, length, squares, work, cross } = space;
  const constants = space.constants.depths[k]!;
  const precision = space.precision[k + 1]!;
  space.shift[k]!.fill(0);
  if (k === K - 1) shiftsOverCells(space);
  else shiftsOverClasses(k, space);
  for (let h = 0; h < constants.squares.length; h++) {
    const at = h * length;
    if (k === K - 1) {
      addScaled(squares, 0, precision, at, constants.squares[h]!, length);
      continue;
    }
    const shiftSquares = space.shiftSquares[k + 1]!;
    for (let i = 0; i < length; i++) work[i] = 2 * cross[at + i]! + shiftSquares[at + i]!;
    work[0]! += constants.squares[h]!;
    addProduct(squares, 0, precision, at, work, 0, 1, K);
  }
  sumSquares(k, space);
}

/** Cell means do not depend on the components: a shift is the sum of constants times P/A, once a size and shape. */
function shiftsOverCells(space: NestedWorkspace): void {
  const { K, length, weights } = space;
  const { parent, shape, sum, moving } = space.constants.depths[K - 1]!;
  if (moving.length === 0) return;
  const { shapeOf, below } = space.constants.shapes[K - 1]!;
  const sizes = space.constants.cellSizes.length;
  weights.fill(0);
  for (let h = 0; h < below.length; h++) {
    if (below[h]!.length < 2) continue;
    for (const [size] of below[h]!) {
      const at = (h * sizes + size) * length;
      addProduct(weights, at, space.precision[K]!, size * length, space.inverse[K - 1]!, h * length, 1, K);
    }
  }
  for (let g = 0; g < sum.length; g++) {
    const p = parent[g]!;
    const h = shapeOf[p]!;
    if (below[h]!.length < 2) continue;
    addScaled(space.shift[K - 1]!, p * length, weights, (h * sizes + shape[g]!) * length, sum[g]!, length);
  }
}

function shiftsOverClasses(k: number, space: NestedWorkspace): void {
  const { K, length, work, groups } = space;
  const { parent, shape, sum } = space.constants.depths[k]!;
  const { shapeOf } = space.constants.shapes[k]!;
  for (let g = 0; g < sum.length; g++) {
    for (let i = g * length; i < (g + 1) * length; i++) groups[i] = 0;
    groups[g * length] = sum[g]!;
  }
  addShifts(k + 1, space);
  for (let g = 0; g < sum.length; g++) {
    work.fill(0);
    addProduct(work, 0, space.precision[k + 1]!, shape[g]! * length, groups, g * length, 1, K);
    const p = parent[g]!;
    addProduct(space.shift[k]!, p * length, work, 0, space.inverse[k]!, shapeOf[p]! * length, 1, K);
  }
}

/** Adds the shifts of the classes of depth k to their groups, and their products with the constant deviations to `cross`. */
function addShifts(k: number, space: NestedWorkspace): void {
  const { length, groups, cross } = space;
  const { groupOf, deviation } = space.constants.depths[k - 1]!;
  const { shapeOf } = space.constants.shapes[k]!;
  const shift = space.shift[k]!;
  cross.fill(0);
  for (const c of space.constants.depths[k]!.moving) {
    addScaled(groups, groupOf[c]! * length, shift, c * length, 1, length);
    addScaled(cross, shapeOf[c]! * length, shift, c * length, deviation[c]!, length);
  }
}

/** Squares of the shifts of depth k over each shape; A times them comes off the squares. */
function sumSquares(k: number, space: NestedWorkspace): void {
  const { K, length, squares } = space;
  const { shapeOf, multiplicity } = space.constants.shapes[k]!;
  const shift = space.shift[k]!;
  const sums = space.shiftSquares[k]!;
  sums.fill(0);
  for (const c of space.constants.depths[k]!.moving) {
    addProduct(sums, shapeOf[c]! * length, shift, c * length, shift, c * length, 1, K);
  }
  for (let h = 0; h < multiplicity.length; h++) {
    addProduct(squares, 0, space.pooled[k]!, h * length, sums, h * length, -1, K);
  }
}
