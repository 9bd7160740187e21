import { requireFinite, requireProbability } from '../../errors.js';
import type { ProbabilityDistribution } from './probability-distribution.js';

/** What makes a symmetric distribution, as functions of the distance z from its centre. */
export interface SymmetricShape {
  readonly standardDeviation: number;
  /** Half of the range, may be `Infinity`. */
  readonly reach: number;
  readonly density: (z: number) => number;
  /** Probability of at most −z, for 0 ≤ z ≤ reach. */
  readonly tail: (z: number) => number;
  /** The z ≥ 0 whose tail is p, for 0 < p ≤ 1/2. */
  readonly tailQuantile: (p: number) => number;
}

/** A distribution symmetric about `centre`, made from one tail so that both tails are equally accurate. */
export function symmetricDistribution(centre: number, shape: SymmetricShape): ProbabilityDistribution {
  requireFinite([centre], 'centre of a distribution');
  const below = (z: number): number => {
    if (z >= shape.reach) return 1;
    if (z <= -shape.reach) return 0;
    return z <= 0 ? shape.tail(-z) : 1 - shape.tail(z);
  };
  return {
    mean: centre,
    standardDeviation: shape.standardDeviation,
    lower: centre - shape.reach,
    upper: centre + shape.reach,
    density: (x) => (Math.abs(x - centre) > shape.reach ? 0 : shape.density(Math.abs(x - centre))),
    cdf: (x) => below(x - centre),
    survival: (x) => below(centre - x),
    quantile: (p) => {
      requireProbability(p, 'probability');
      return p <= 0.5 ? centre - shape.tailQuantile(p) : centre + shape.tailQuantile(1 - p);
    },
  };
}
