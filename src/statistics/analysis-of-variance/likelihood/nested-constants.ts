import { type DepthShapes, nestedShapes } from './nested-shapes.js';
import type { NestedTree } from './nested-tree.js';

/**
 * What the data of one depth give before any component is known. The mean of a class is a plain mean, which is constant, and
 * a shift from it that depends on the components.
 */
export interface DepthConstants {
  /** Groups of classes of one shape under one parent: parent, shape, sum of the deviations of the plain means. */
  readonly parent: readonly number[];
  readonly shape: readonly number[];
  readonly sum: readonly number[];
  /** Group of each class, and deviation of its plain mean from that of its parent. */
  readonly groupOf: readonly number[];
  readonly deviation: readonly number[];
  /** Squared deviations summed over all classes of each shape. */
  readonly squares: readonly number[];
  /** Parents whose mean depends on the components: cells of one size have their plain mean whatever the components. */
  readonly moving: readonly number[];
}

/** Sizes, shapes and constants of a nested design; depth K has the cells. */
export interface NestedConstants {
  readonly cellSizes: readonly number[];
  readonly shapes: readonly DepthShapes[];
  /** Entry k: classes of depth k + 1 within those of depth k. */
  readonly depths: readonly DepthConstants[];
  /** Plain mean of the whole, about the grand mean of the values. */
  readonly mean: number;
}

export function nestedConstants(tree: NestedTree): NestedConstants {
  const { sizes, depths: shapes } = nestedShapes(tree);
  const depths: DepthConstants[] = new Array(tree.parents.length);
  let means = tree.means;
  for (let k = tree.parents.length - 1; k >= 0; k--) {
    const parent = tree.parents[k]!;
    const above = plainMeans(means, parent, shapes[k]!.shapeOf.length);
    depths[k] = depthConstants(means, above, parent, shapes[k + 1]!, k === tree.parents.length - 1);
    means = above;
  }
  return { cellSizes: sizes, shapes, depths, mean: means[0]! };
}

function plainMeans(means: readonly number[], parent: readonly number[], count: number): number[] {
  const sums = new Array<number>(count).fill(0);
  const members = new Array<number>(count).fill(0);
  for (let c = 0; c < parent.length; c++) {
    sums[parent[c]!]! += means[c]!;
    members[parent[c]!]!++;
  }
  for (let p = 0; p < count; p++) sums[p]! /= members[p]!;
  return sums;
}

function depthConstants(
  means: readonly number[],
  above: readonly number[],
  parentOf: readonly number[],
  shapes: DepthShapes,
  ofCells: boolean,
): DepthConstants {
  const count = shapes.multiplicity.length;
  const squares = new Array<number>(count).fill(0);
  const parent: number[] = [];
  const shape: number[] = [];
  const sum: number[] = [];
  const groupOf: number[] = [];
  const deviation: number[] = [];
  const known = new Map<number, number>();
  for (let c = 0; c < parentOf.length; c++) {
    const s = shapes.shapeOf[c]!;
    const p = parentOf[c]!;
    const d = means[c]! - above[p]!;
    let group = known.get(p * count + s);
    if (group === undefined) {
      group = sum.length;
      known.set(p * count + s, group);
      parent.push(p);
      shape.push(s);
      sum.push(0);
    }
    sum[group]! += d;
    groupOf.push(group);
    deviation.push(d);
    squares[s]! += d * d;
  }
  const groupsOf = new Array<number>(above.length).fill(0);
  for (const p of parent) groupsOf[p]!++;
  const moving: number[] = [];
  for (let p = 0; p < above.length; p++) if (!ofCells || groupsOf[p]! > 1) moving.push(p);
  return { parent, shape, sum, groupOf, deviation, squares, moving };
}
