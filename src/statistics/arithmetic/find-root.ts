import { InputError } from '../../errors.js';

/**
 * Root of a continuous function between two points at which its signs differ: Brent's method.
 *
 * @param f continuous on the interval
 * @param low one end
 * @param high other end
 * @param relative half the width of the last bracket over its larger end; at least 2.3e-16
 * @returns a point that close to a change of sign
 * @throws InputError the signs at the ends do not differ
 * @see Brent 1973, Algorithms for Minimization without Derivatives, chapter 4
 * @example
 * findRoot((x) => x * x - 2, 0, 2, 2.3e-16) // => 1.4142135623730951
 */
export function findRoot(f: (x: number) => number, low: number, high: number, relative = 1e-12): number {
  let a = low;
  let b = high;
  let fa = f(a);
  let fb = f(b);
  if (!(fa * fb <= 0) && Math.sign(fa) === Math.sign(fb)) {
    throw new InputError(
      `interval ${low} to ${high}: found ${fa} and ${fb} at its ends, expected opposite signs`,
    );
  }
  let c = a;
  let fc = fa;
  let before = b - a;
  let step = before;
  for (let i = 0; i < 300 && fb !== 0; i++) {
    if (fb > 0 === fc > 0) {
      c = a;
      fc = fa;
      before = step = b - a;
    }
    if (Math.abs(fc) < Math.abs(fb)) [a, b, c, fa, fb, fc] = [b, c, b, fb, fc, fb];
    const tolerance = relative * Math.abs(b) + 1e-308;
    const half = (c - b) / 2;
    if (Math.abs(half) <= tolerance) break;
    const proposal = Math.abs(before) >= tolerance ? interpolate(a, b, c, fa, fb, fc) : half;
    const accepted =
      Math.sign(proposal) === Math.sign(half) &&
      2 * Math.abs(proposal) < Math.min(3 * Math.abs(half) - tolerance, Math.abs(before));
    before = accepted ? step : half;
    step = accepted ? proposal : half;
    a = b;
    fa = fb;
    b += Math.abs(step) > tolerance ? step : Math.sign(half) * tolerance;
    fb = f(b);
  }
  return b;
}

/** Step from b to the zero of the inverse parabola through three points, or of the secant through two. */
function interpolate(a: number, b: number, c: number, fa: number, fb: number, fc: number): number {
  const s = fb / fa;
  if (a === c) return ((c - b) * s) / (s - 1);
  const q = fa / fc;
  const r = fb / fc;
  const top = s * ((c - b) * q * (q - r) - (b - a) * (r - 1));
  return -top / ((q - 1) * (r - 1) * (s - 1));
}
