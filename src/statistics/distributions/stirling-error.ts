/** Coefficients of the asymptotic series 1/(12a) − 1/(360a³) + … : B₂ₖ / (2k(2k − 1)). */
const series = [
  1 / 12,
  -1 / 360,
  1 / 1260,
  -1 / 1680,
  1 / 1188,
  -691 / 360360,
  1 / 156,
  -3617 / 122400,
  43867 / 244188,
];

/**
 * Error of Stirling's formula, δ(a) = ln Γ(a + 1) − [(a + ½) ln a − a + ½ ln 2π].
 *
 * Written with it, the prefactors of the incomplete gamma and beta functions lose no digits for large arguments,
 * where differences of ln Γ would.
 *
 * @param a above 0
 * @see Loader 2000, Fast and accurate computation of binomial probabilities; NIST Digital Library of Mathematical
 * Functions 5.11.1
 * @example
 * stirlingError(1) // => 0.081061467
 */
export function stirlingError(a: number): number {
  if (a < 10) return stirlingError(a + 1) + stirlingStep(a);
  const square = a * a;
  let sum = 0;
  for (let k = series.length - 1; k >= 0; k--) sum = sum / square + series[k]!;
  return sum / a;
}

/** δ(a) − δ(a + 1) = (a + ½) ln(1 + 1/a) − 1. */
function stirlingStep(a: number): number {
  if (a < 1) return (a + 0.5) * (Math.log1p(a) - Math.log(a)) - 1;
  // With v = 1/(2a + 1): (a + ½) ln(1 + 1/a) = artanh(v)/v, so the leading 1 is left out and nothing cancels.
  const square = 1 / (2 * a + 1) ** 2;
  return artanhTail(square) * square;
}

/** (artanh(v)/v − 1)/v² = 1/3 + v²/5 + v⁴/7 + … for v² ≤ 1/9, as a function of v². */
function artanhTail(square: number): number {
  let sum = 0;
  let power = 1;
  for (let k = 3; power > 1e-18; k += 2) {
    sum += power / k;
    power *= square;
  }
  return sum;
}

/**
 * ln(1 + u) − u without cancellation near 0.
 *
 * @param u above −1
 * @example
 * logOnePlusMinus(1e-9) // => -5e-19
 */
export function logOnePlusMinus(u: number): number {
  if (u < -0.5 || u > 1) return Math.log1p(u) - u;
  const v = u / (2 + u);
  return v * (2 * v * v * artanhTail(v * v) - u);
}

/**
 * Half the deviance of a gamma or Poisson variable, a·ln(a/m) + m − a ≥ 0, without cancellation near m = a.
 *
 * @param a above 0
 * @param m above 0
 * @param difference m − a, given apart where it is known more exactly than the subtraction yields it
 * @example
 * halfDeviance(10, 10) // => 0
 */
export function halfDeviance(a: number, m: number, difference = m - a): number {
  const u = difference / a;
  if (u > -0.9 && Number.isFinite(u)) return -a * logOnePlusMinus(u);
  return a * (Math.log(a) - Math.log(m)) + difference;
}

/**
 * ln Γ(a), to about 1e-15 of the larger of 1 and its magnitude.
 *
 * @param a above 0
 * @example
 * logGamma(0.5) // => 0.57236494
 */
export function logGamma(a: number): number {
  return stirlingError(a) + (a - 0.5) * Math.log(a) - a + 0.5 * Math.log(2 * Math.PI);
}
