/**
 * −2 log restricted likelihood (or likelihood) at given variance components, with derivatives by the components. The order of
 * the components is that of the random factors, the residual last.
 */
export interface LikelihoodPoint {
  readonly value: number;
  readonly gradient: readonly number[];
  /** Second derivatives: observed information is half of them. */
  readonly observed: readonly (readonly number[])[];
  /** Expectation of the second derivatives: expected information is half of them; never negative definite. */
  readonly expected: readonly (readonly number[])[];
}

/** A likelihood as a function of the components; all at least 0, the residual above 0. */
export interface Likelihood<Point extends LikelihoodPoint = LikelihoodPoint> {
  /** Number of components, residual included. */
  readonly components: number;
  at(components: readonly number[]): Point;
  /** −2 log likelihood alone. */
  valueAt(components: readonly number[]): number;
}

export const log2Pi: number = Math.log(2 * Math.PI);
