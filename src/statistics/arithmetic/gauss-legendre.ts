/** Points and weights of a quadrature rule. */
export interface QuadratureRule {
  readonly points: Float64Array;
  readonly weights: Float64Array;
}

const rules = new Map<number, QuadratureRule>();

/**
 * Gauss-Legendre rule on (−1, 1): exact for polynomials up to degree 2n − 1.
 *
 * @param n number of points
 * @see NIST Digital Library of Mathematical Functions 3.5(v)
 * @example
 * gaussLegendre(2).points[1] // => 0.57735027
 */
export function gaussLegendre(n: number): QuadratureRule {
  const known = rules.get(n);
  if (known) return known;
  const points = new Float64Array(n);
  const weights = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let x = -Math.cos((Math.PI * (i + 0.75)) / (n + 0.5));
    let slope = 0;
    for (let step = 0; step < 8; step++) {
      const { value, derivative } = legendre(n, x);
      slope = derivative;
      x -= value / derivative;
    }
    points[i] = x;
    weights[i] = 2 / ((1 - x * x) * slope * slope);
  }
  const rule = { points, weights };
  rules.set(n, rule);
  return rule;
}

/**
 * Integral of a smooth function between two finite limits.
 *
 * @param n points of the rule
 * @example
 * integrate((x) => x * x, 0, 3, 4) // => 9
 */
export function integrate(f: (x: number) => number, low: number, high: number, n: number): number {
  const { points, weights } = gaussLegendre(n);
  const half = (high - low) / 2;
  let sum = 0;
  for (let i = 0; i < n; i++) sum += weights[i]! * f(low + half * (1 + points[i]!));
  return half * sum;
}

function legendre(n: number, x: number): { value: number; derivative: number } {
  let before = 1;
  let value = x;
  for (let k = 2; k <= n; k++) [before, value] = [value, ((2 * k - 1) * x * value - (k - 1) * before) / k];
  return { value, derivative: (n * (x * value - before)) / (x * x - 1) };
}
