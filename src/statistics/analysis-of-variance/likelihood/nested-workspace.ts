import { type Jets, jetLength } from './jet.js';
import type { LikelihoodPoint } from './likelihood.js';
import { type NestedConstants, nestedConstants } from './nested-constants.js';
import type { NestedTree } from './nested-tree.js';

/** Likelihood and mean of a nested design at given components. */
export interface NestedPoint extends LikelihoodPoint {
  readonly mean: number;
  /** Variance of the mean, and its derivatives by the components. */
  readonly meanVariance: number;
  readonly meanVarianceGradient: readonly number[];
}

/** What stays the same between evaluations, and arrays that are used again at each; jets are by ratios to the residual. */
export interface NestedWorkspace {
  readonly tree: NestedTree;
  readonly constants: NestedConstants;
  /** Number of components beside the residual. */
  readonly K: number;
  readonly length: number;
  /** Of each shape of depth k: precision of the mean without its own component, its inverse, precision with the component. */
  readonly pooled: readonly Jets[];
  readonly inverse: readonly Jets[];
  readonly precision: readonly Jets[];
  /** shift[k]: of each class of depth k, its mean less its plain mean; squares of the shifts summed over each shape. */
  readonly shift: readonly Jets[];
  readonly shiftSquares: readonly Jets[];
  /** Sums over the groups, and over the shapes, of one depth; one product; what is summed over all depths. */
  readonly groups: Jets;
  readonly cross: Jets;
  /** P/A of each cell size in each shape of classes that hold cells. */
  readonly weights: Jets;
  readonly work: Jets;
  readonly logs: Jets;
  readonly squares: Jets;
}

/** Arrays for the evaluations of one design. */
export function nestedWorkspace(tree: NestedTree): NestedWorkspace {
  const K = tree.parents.length;
  const length = jetLength(K);
  const constants = nestedConstants(tree);
  const shapes = constants.shapes.map((depth) => depth.multiplicity.length);
  const classes = constants.shapes.map((depth) => depth.shapeOf.length);
  let mostGroups = 0;
  let mostShapes = 0;
  let total = 3;
  for (let k = 0; k <= K; k++) {
    mostShapes = Math.max(mostShapes, shapes[k]!);
    total += 4 * shapes[k]!;
    if (k === K) continue;
    mostGroups = Math.max(mostGroups, constants.depths[k]!.sum.length);
    total += classes[k]!;
  }
  // One buffer for all jets: many small ones would cost more than the arithmetic.
  const weights = shapes[K - 1]! * shapes[K]!;
  const buffer = new Float64Array((total + weights + mostGroups + mostShapes) * length);
  let used = 0;
  const jets = (count: number): Jets => {
    used += count * length;
    return buffer.subarray(used - count * length, used);
  };
  return {
    tree,
    constants,
    K,
    length,
    pooled: shapes.map(jets),
    inverse: shapes.map(jets),
    precision: shapes.map(jets),
    shiftSquares: shapes.map(jets),
    shift: classes.slice(0, K).map(jets),
    groups: jets(mostGroups),
    cross: jets(mostShapes),
    weights: jets(weights),
    work: jets(1),
    logs: jets(1),
    squares: jets(1),
  };
}
