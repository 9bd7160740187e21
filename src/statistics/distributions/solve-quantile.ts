import type { Tails } from './incomplete-gamma.js';

/** What is wanted of a quantile: the probability below it or above it, whichever is at most ½. */
export interface TailTarget {
  readonly side: 'lower' | 'upper';
  readonly probability: number;
}

/** A positive continuous variable as the solver sees it. */
export interface PositiveVariable {
  tails(x: number): Tails;
  /** x times the density at x: the slope of the distribution function against ln x. */
  slope(x: number): number;
}

/** Turns a probability below the quantile into a target on the smaller tail. */
export function lowerTarget(p: number): TailTarget {
  return p <= 0.5 ? { side: 'lower', probability: p } : { side: 'upper', probability: 1 - p };
}

/** Turns a probability above the quantile into a target on the smaller tail. */
export function upperTarget(p: number): TailTarget {
  return p <= 0.5 ? { side: 'upper', probability: p } : { side: 'lower', probability: 1 - p };
}

/**
 * Quantile of a positive variable: Newton's method on the logarithm of the tail against ln x, kept inside a bracket.
 * The logarithm of the tail is concave there, so the method converges from any start.
 *
 * @param start a first guess; one that is not positive and finite is replaced by 1
 * @returns x, 0 where it falls below the range of double precision, Infinity above it
 */
export function solveQuantile(variable: PositiveVariable, target: TailTarget, start: number): number {
  const rising = target.side === 'lower' ? 1 : -1;
  let x = start > 0 && Number.isFinite(start) ? start : 1;
  let low = 0;
  let high = Number.POSITIVE_INFINITY;
  for (let i = 0; i < 400; i++) {
    const tail = variable.tails(x)[target.side];
    const excess = rising * Math.log(tail / target.probability);
    if (excess > 0) high = x;
    else low = x;
    const step = (-excess * tail) / variable.slope(x);
    if (Math.abs(step) < 1e-10) return x * (1 + step);
    x = nextPoint(x, step, low, high);
    if (x === 0 || x === Number.POSITIVE_INFINITY) return x;
  }
  return x;
}

function nextPoint(x: number, step: number, low: number, high: number): number {
  const next = x * Math.exp(Math.max(-20, Math.min(20, step)));
  if (next > low && next < high) return next;
  if (low === 0) return Number.isFinite(step) ? next : x * 1e-3;
  if (high === Number.POSITIVE_INFINITY) return Number.isFinite(step) ? next : x * 1e3;
  return Math.sqrt(low) * Math.sqrt(high);
}
