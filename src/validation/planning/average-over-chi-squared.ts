import { requireInteger } from '../../errors.js';
import { chiSquaredQuantile } from '../../statistics/distributions/chi-squared.js';

const points = 400;

/** Places of one number of degrees of freedom, worked out once: a plan asks for the same ones many times. */
const places = new Map<number, Float64Array>();

/**
 * Mean of f(χ²/ν) over the χ² distribution: what an estimated variance s²/σ² does to a probability that depends on it.
 * By the midpoint rule over equal shares of probability; good to about 1e-4 for an f between 0 and 1.
 *
 * @throws InputError ν not a whole number of at least 1
 * @example
 * averageOverChiSquared(5, (s2) => s2).toFixed(2) // => "1.00"
 */
export function averageOverChiSquared(nu: number, f: (varianceRatio: number) => number): number {
  requireInteger(nu, 'degrees of freedom', 1);
  let own = places.get(nu);
  if (own === undefined) {
    own = Float64Array.from({ length: points }, (_, i) => chiSquaredQuantile((i + 0.5) / points, nu) / nu);
    places.set(nu, own);
  }
  let sum = 0;
  for (const place of own) sum += f(place);
  return sum / points;
}
