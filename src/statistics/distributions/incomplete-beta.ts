import type { Tails } from './incomplete-gamma.js';
import { logOnePlusMinus, stirlingError } from './stirling-error.js';

/**
 * Regularised incomplete beta function I(a, b; x) and its complement.
 *
 * @param a above 0
 * @param b above 0
 * @param x from 0 to 1
 * @param y 1 − x, given apart so that neither end of the range loses digits
 * @returns I as `lower`, 1 − I as `upper`; about 1e-14 relative for a and b between 1e-3 and 1e6
 * @see NIST Digital Library of Mathematical Functions 8.17.22; even part of the continued fraction after Didonato and
 * Morris 1992, ACM Trans. Math. Softw. 18, 360
 * @example
 * incompleteBeta(2, 3, 0.25, 0.75).lower // => 0.26171875
 */
export function incompleteBeta(a: number, b: number, x: number, y: number): Tails {
  if (x <= 0) return { lower: 0, upper: 1 };
  if (y <= 0) return { lower: 1, upper: 0 };
  const scale = betaPrefactor(a, b, x, y);
  if (x * (b + 1) <= y * (a + 1)) {
    const lower = scale * continuedFraction(a, b, x, y);
    return { lower, upper: 1 - lower };
  }
  const upper = scale * continuedFraction(b, a, y, x);
  return { lower: 1 - upper, upper };
}

/** xᵃ yᵇ / B(a, b), by Stirling errors and deviances instead of differences of large logarithms. */
export function betaPrefactor(a: number, b: number, x: number, y: number): number {
  const n = a + b;
  const shift = b * x - a * y;
  const deviance = partDeviance(a, n * x, shift) + partDeviance(b, n * y, -shift);
  const gammas = stirlingError(n) - stirlingError(a) - stirlingError(b);
  return Math.sqrt((a / n) * (b / (2 * Math.PI))) * Math.exp(gammas - deviance);
}

/** a·ln(a/m) + m − a, where m − a = `shift`. */
function partDeviance(a: number, m: number, shift: number): number {
  const u = shift / a;
  if (u > -0.9 && Number.isFinite(u)) return -a * logOnePlusMinus(u);
  return a * (Math.log(a) - Math.log(m)) + shift;
}

function continuedFraction(a: number, b: number, x: number, y: number): number {
  const c = 1 + a * y - b * x;
  const c1 = 1 + 1 / a;
  let p = 1;
  let s = a + 1;
  let topBefore = 0;
  let bottomBefore = 1;
  let top = 1;
  let bottom = c / c1;
  let result = c1 / c;
  for (let n = 1; ; n++) {
    const t = n / a;
    const w = n * (b - n) * x;
    const alpha = p * (p + b / a) * (a / s) ** 2 * w * x;
    const beta = n + w / s + ((1 + t) / (c1 + 2 * t)) * (c + n * (1 + y));
    p = 1 + t;
    s += 2;
    const nextTop = alpha * topBefore + beta * top;
    const nextBottom = alpha * bottomBefore + beta * bottom;
    const next = nextTop / nextBottom;
    const change = Math.abs(next - result);
    result = next;
    if (!(change > 4e-16 * Math.abs(result))) return result;
    topBefore = top / nextBottom;
    bottomBefore = bottom / nextBottom;
    top = result;
    bottom = 1;
  }
}
