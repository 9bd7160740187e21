import type { Jets } from './jet.js';
import type { LikelihoodPoint } from './likelihood.js';
import type { NestedConstants } from './nested-constants.js';
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
