/** A probability distribution for a quantity, in the unit of the quantity. */
export interface ProbabilityDistribution {
  /** Expectation; for a t distribution of one degree of freedom, where there is none, its centre. */
  readonly mean: number;
  /** `Infinity` for a t distribution with 2 degrees of freedom or fewer. */
  readonly standardDeviation: number;
  /** Ends of the range outside which the density is 0. */
  readonly lower: number;
  readonly upper: number;
  readonly density: (x: number) => number;
  /** Probability of at most x. */
  readonly cdf: (x: number) => number;
  /** Probability of more than x, accurate where it is small. */
  readonly survival: (x: number) => number;
  /** Value not exceeded with probability p, 0 < p < 1. */
  readonly quantile: (p: number) => number;
}
