import { InputError } from '../../errors.js';
import { normalCdf, normalDensity } from './normal.js';

const step = 1 / 16;
const end = 9;

/**
 * Probability that the range of n standard normal observations is at most r: n ∫ φ(x)·(Φ(x + r) − Φ(x))ⁿ⁻¹ dx.
 *
 * The trapezoidal rule has its full accuracy here, for the integrand is smooth and dies out on both sides.
 *
 * @param r not below 0
 * @param n at least 2
 * @throws InputError r below 0, n not a whole number from 2
 * @see Tippett 1925, Biometrika 17, 364
 * @example
 * normalRangeCdf(2.7718, 2) // => 0.95
 */
export function normalRangeCdf(r: number, n: number): number {
  if (!(r >= 0)) throw new InputError(`range: found ${r}, expected at least 0`);
  if (!Number.isInteger(n) || n < 2) {
    throw new InputError(`observations of a range: found ${n}, expected a whole number from 2`);
  }
  let sum = 0;
  for (let x = -end - r; x <= end; x += step) {
    sum += normalDensity(x) * (normalCdf(x + r) - normalCdf(x)) ** (n - 1);
  }
  return Math.min(1, n * step * sum);
}

/**
 * Factor of the standard deviation of one result that the range of n results exceeds in 5 % of cases only, to one decimal as it
 * is quoted: the critical range of n results is this factor times the repeatability standard deviation.
 *
 * @param n at least 2
 * @throws InputError n not a whole number from 2
 * @see ISO 5725-6:1994, 4.1.4 and table 1 (clause from memory)
 * @example
 * criticalRangeFactor(2) // => 2.8
 */
export function criticalRangeFactor(n: number): number {
  let low = 0;
  let high = 20;
  while (high - low > 1e-9) {
    const middle = (low + high) / 2;
    if (normalRangeCdf(middle, n) < 0.95) low = middle;
    else high = middle;
  }
  return Math.round(10 * low) / 10;
}
