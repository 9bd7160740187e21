import { halfDeviance, stirlingError } from './stirling-error.js';

/** The two tails of a distribution function: `lower` + `upper` = 1, each accurate relative to itself. */
export interface Tails {
  readonly lower: number;
  readonly upper: number;
}

/**
 * Regularised incomplete gamma functions P(a, x) and Q(a, x).
 *
 * @param a above 0
 * @param x at least 0, Infinity included
 * @returns P as `lower`, Q as `upper`; about 1e-14 relative for a between 1e-3 and 1e6
 * @see NIST Digital Library of Mathematical Functions 8.7.1 (series) and 8.9.2 (continued fraction)
 * @example
 * incompleteGamma(1, 2).upper // => 0.13533528
 */
export function incompleteGamma(a: number, x: number): Tails {
  if (x <= 0) return { lower: 0, upper: 1 };
  if (x === Number.POSITIVE_INFINITY) return { lower: 1, upper: 0 };
  const scale = gammaPrefactor(a, x);
  if (x < Math.max(1, a)) {
    const lower = scale * series(a, x);
    return { lower, upper: 1 - lower };
  }
  const upper = scale * a * continuedFraction(a, x);
  return { lower: 1 - upper, upper };
}

/** xᵃ e⁻ˣ / Γ(a + 1). */
export function gammaPrefactor(a: number, x: number): number {
  return Math.exp(-stirlingError(a) - halfDeviance(a, x)) / Math.sqrt(2 * Math.PI * a);
}

/** 1 + x/(a + 1) + x²/((a + 1)(a + 2)) + …; all terms positive. */
function series(a: number, x: number): number {
  let term = 1;
  let sum = 1;
  for (let k = 1; term > sum * 1e-17; k++) {
    term *= x / (a + k);
    sum += term;
  }
  return sum;
}

/** Γ(a, x)·eˣ/xᵃ by the modified Lentz method. */
function continuedFraction(a: number, x: number): number {
  const tiny = 1e-300;
  let b = x + 1 - a;
  let c = 1 / tiny;
  let d = 1 / (b === 0 ? tiny : b);
  let result = d;
  for (let k = 1; ; k++) {
    const numerator = -k * (k - a);
    b += 2;
    d = numerator * d + b;
    c = b + numerator / c;
    if (d === 0) d = tiny;
    if (c === 0) c = tiny;
    d = 1 / d;
    const step = c * d;
    result *= step;
    if (!(Math.abs(step - 1) > 4e-16)) return result;
  }
}
