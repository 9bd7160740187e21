import { InputError } from '../../../errors.js';
import { normalCdf, normalDensity } from '../../../statistics/distributions/normal.js';
import type { ProbabilityDistribution } from '../../distributions/probability-distribution.js';

/** Terms kept of the expansion, and the points and reach of its integrals. */
const terms = 40;
const points = 4001;
const reach = 8;

/** How far a coefficient may lie beyond what the expansion, cut short, can reach: then the two go as one. */
const cutShort = 0.01;

/** A value of a quantity as a function of a standard normal deviate with the same probability of being exceeded. */
export function fromNormal(distribution: ProbabilityDistribution): (z: number) => number {
  const least = Number.MIN_VALUE;
  const most = 1 - Number.EPSILON / 2;
  return (z) => distribution.quantile(Math.min(most, Math.max(least, normalCdf(z))));
}

/**
 * Coefficients aₖ of a quantity in normalised Hermite polynomials of its normal deviate, k from 1: Σaₖ² is its variance,
 * and Σaₖbₖρᵏ the covariance of two such quantities whose deviates have the correlation ρ.
 */
export function hermiteCoefficients(value: (z: number) => number): Float64Array {
  const coefficients = new Float64Array(terms + 1);
  const step = (2 * reach) / (points - 1);
  for (let i = 0; i < points; i++) {
    const z = -reach + i * step;
    const weight = value(z) * normalDensity(z) * step;
    let [before, now] = [0, 1];
    for (let k = 0; k <= terms; k++) {
      coefficients[k]! += weight * now;
      // He(k+1) = z·He(k) − k·He(k−1), each divided by √k!.
      [before, now] = [now, (z * now - Math.sqrt(k) * before) / Math.sqrt(k + 1)];
    }
  }
  return coefficients.subarray(1);
}

/**
 * Correlation of the normal deviates of two quantities that gives the quantities themselves the stated one.
 *
 * @param a coefficients of the one, from `hermiteCoefficients`
 * @param b coefficients of the other
 * @param stated correlation coefficient of the two quantities
 * @param names for the message
 * @throws InputError the two distributions cannot have that correlation
 * @see Cario and Nelson 1997 (normal to anything); van der Geest 1998
 * @example
 * const z = hermiteCoefficients((x) => x);
 * latentCorrelation(z, z, 0.5, 'two normal quantities') // => 0.5
 */
export function latentCorrelation(a: Float64Array, b: Float64Array, stated: number, names: string): number {
  const norm = Math.sqrt(sumOfProducts(a, a, 1) * sumOfProducts(b, b, 1));
  const found = (rho: number): number => sumOfProducts(a, b, rho) / norm;
  let [low, high] = [-1, 1];
  if (stated <= found(low) || stated >= found(high)) {
    const limit = stated < 0 ? found(low) : found(high);
    if (Math.abs(stated) > Math.abs(limit) + cutShort) {
      throw new InputError(
        `correlation of ${names}: found ${stated}; with their distributions it reaches ${limit.toFixed(3)} at most`,
      );
    }
    return Math.sign(stated);
  }
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (found(middle) < stated) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

function sumOfProducts(a: Float64Array, b: Float64Array, rho: number): number {
  let sum = 0;
  for (let k = a.length - 1; k >= 0; k--) sum = rho * (sum + a[k]! * b[k]!);
  return sum;
}
