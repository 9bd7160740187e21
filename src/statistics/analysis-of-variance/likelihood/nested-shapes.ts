import type { NestedTree } from './nested-tree.js';

/**
 * Classes of one depth that hold classes of the same shapes below share every precision, whatever the values: what depends on
 * precisions alone is computed once a shape. Depth K has the cells, their shapes are their sizes.
 */
export interface DepthShapes {
  /** Shape of each class. */
  readonly shapeOf: readonly number[];
  /** Number of classes of each shape. */
  readonly multiplicity: readonly number[];
  /** Shapes below: of each shape, pairs of shape and number. */
  readonly below: readonly (readonly [number, number])[][];
}

/** Shapes of the cells and of the classes above them; entry k belongs to depth k, the whole being depth 0. */
export function nestedShapes(tree: NestedTree): { sizes: number[]; depths: DepthShapes[] } {
  const depth = tree.parents.length;
  const depths: DepthShapes[] = new Array(depth + 1);
  const distinct = [...new Set(tree.sizes)];
  const index = new Map(distinct.map((size, s) => [size, s]));
  const shapeOf = new Array<number>(tree.sizes.length).fill(0);
  const multiplicity = new Array<number>(distinct.length).fill(0);
  for (let c = 0; c < shapeOf.length; c++) {
    shapeOf[c] = index.get(tree.sizes[c]!)!;
    multiplicity[shapeOf[c]!]!++;
  }
  depths[depth] = { shapeOf, multiplicity, below: [] };
  for (let k = depth - 1; k >= 0; k--) {
    const count = k === 0 ? 1 : tree.parents[k - 1]!.length;
    depths[k] = shapesAbove(depths[k + 1]!, tree.parents[k]!, count);
  }
  return { sizes: distinct, depths };
}

function shapesAbove(lower: DepthShapes, parent: readonly number[], count: number): DepthShapes {
  const members: number[][] = [];
  for (let c = 0; c < count; c++) members.push([]);
  for (let c = 0; c < parent.length; c++) members[parent[c]!]!.push(lower.shapeOf[c]!);
  const seen = new Map<string, number>();
  const shapeOf: number[] = [];
  const multiplicity: number[] = [];
  const below: [number, number][][] = [];
  for (const shapes of members) {
    if (shapes.length > 1) shapes.sort((a, b) => a - b);
    const key = shapes.join(' ');
    let shape = seen.get(key);
    if (shape === undefined) {
      shape = below.length;
      seen.set(key, shape);
      multiplicity.push(0);
      below.push(runs(shapes));
    }
    multiplicity[shape]!++;
    shapeOf.push(shape);
  }
  return { shapeOf, multiplicity, below };
}

/** Sorted shapes as pairs of shape and number. */
function runs(shapes: readonly number[]): [number, number][] {
  const pairs: [number, number][] = [];
  for (const shape of shapes) {
    const last = pairs[pairs.length - 1];
    if (last && last[0] === shape) last[1]++;
    else pairs.push([shape, 1]);
  }
  return pairs;
}
