import type { Jets } from './jet.js';
import type { LikelihoodPoint } from './likelihood.js';
import type { DepthShapes } from './nested-shapes.js';
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
  /** Number of components beside the residual. */
  readonly K: number;
  readonly length: number;
  /** Different cell sizes. */
  readonly cellSizes: readonly number[];
  readonly depths: readonly DepthShapes[];
  /** precision[k]: jets of the precision of each shape of depth k, its component included; inverse[k]: before it, inverted. */
  readonly precision: readonly Jets[];
  readonly inverse: readonly Jets[];
  /** means[k]: jets of the mean of each class of depth k; cells need none, their means are constants. */
  readonly means: readonly Jets[];
  /** Working figures of one parent's sum, of one product, and of what is summed over all depths. */
  readonly first: Jets;
  readonly work: Jets;
  readonly logs: Jets;
  readonly squares: Jets;
  readonly centres: number[];
  readonly weights: number[];
}
