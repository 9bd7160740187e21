/**
 * Integral over the whole line of exp(g(v)) for a smooth g with one peak and falling flanks, relative to itself.
 *
 * The trapezoidal rule converges faster than any power of the step for such integrands; the step is halved until the
 * result stands. All terms are positive, so a result of 1e-200 has as many digits as one of ½.
 *
 * @param g logarithm of the integrand, finite from `low` to `high`
 * @param low below the peak
 * @param high above the peak
 * @returns the integral, 0 where it falls below the range of double precision
 * @see Trefethen and Weideman 2014, The exponentially convergent trapezoidal rule, SIAM Review 56, 385
 * @example
 * integratePeak((v) => -v * v, -5, 6) // => 1.7724539
 */
export function integratePeak(g: (v: number) => number, low: number, high: number): number {
  const mode = findPeak(g, low, high);
  const peak = g(mode);
  const height = (v: number) => Math.exp(g(v) - peak);
  let step = halfWidth(height, mode);
  let sum = sumAlong(height, mode, step, 0);
  for (let halvings = 0; halvings < 16; halvings++) {
    const between = sumAlong(height, mode, step, step / 2);
    const change = Math.abs(between - sum);
    sum += between;
    step /= 2;
    // Halving the step squares the relative error: what is left now is below 1e-16.
    if (change < 1e-9 * sum) break;
  }
  return step * sum * Math.exp(peak);
}

/** Golden-section search; the position of the peak need not be exact. */
function findPeak(g: (v: number) => number, low: number, high: number): number {
  const golden = (Math.sqrt(5) - 1) / 2;
  let left = high - golden * (high - low);
  let right = low + golden * (high - low);
  let gLeft = g(left);
  let gRight = g(right);
  while (high - low > 1e-8) {
    if (gLeft >= gRight) {
      high = right;
      right = left;
      gRight = gLeft;
      left = high - golden * (high - low);
      gLeft = g(left);
    } else {
      low = left;
      left = right;
      gLeft = gRight;
      right = low + golden * (high - low);
      gRight = g(right);
    }
  }
  return (low + high) / 2;
}

/** Distance from the peak at which the integrand has fallen to about a half: the first step of the rule. */
function halfWidth(height: (v: number) => number, mode: number): number {
  let width = 1;
  while (height(mode + width) < 0.5 || height(mode - width) < 0.5) width /= 2;
  return width;
}

/** Sum over mode + offset + k·step, both ways, until the terms no longer count. */
function sumAlong(height: (v: number) => number, mode: number, step: number, offset: number): number {
  let sum = 0;
  for (const direction of [1, -1]) {
    const first = direction === 1 || offset !== 0 ? 0 : 1;
    const start = mode + direction * offset;
    for (let k = first; ; k++) {
      const term = height(start + direction * k * step);
      sum += term;
      if (term < 1e-19 * sum) break;
    }
  }
  return sum;
}
