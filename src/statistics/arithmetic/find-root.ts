import { InputError } from '../../errors.js';

/**
 * Root of a continuous function between two points of different sign: regula falsi in the Illinois form, with a bisection
 * whenever it has not halved the bracket.
 *
 * @param relative width of the final bracket over the larger end
 * @throws InputError both ends have one sign
 * @see Dowell and Jarratt 1971, BIT 11, 168
 */
export function findRoot(f: (x: number) => number, low: number, high: number, relative = 1e-12): number {
  let [a, b] = [low, high];
  let [fa, fb] = [f(a), f(b)];
  if (fa === 0) return a;
  if (fb === 0) return b;
  if (fa > 0 === fb > 0) throw new InputError('root: found one sign at both ends of the bracket');
  let side = 0;
  for (let step = 0; step < 200; step++) {
    const width = Math.abs(b - a);
    if (width <= relative * Math.max(Math.abs(a), Math.abs(b))) break;
    const falsi = (fa * b - fb * a) / (fa - fb);
    const inside = falsi > Math.min(a, b) && falsi < Math.max(a, b);
    const x = step % 3 === 2 || !inside ? (a + b) / 2 : falsi;
    const fx = f(x);
    if (fx === 0) return x;
    if (fx > 0 === fb > 0) {
      [b, fb] = [x, fx];
      if (side === -1) fa /= 2;
      side = -1;
    } else {
      [a, fa] = [x, fx];
      if (side === 1) fb /= 2;
      side = 1;
    }
  }
  return Math.abs(fa) < Math.abs(fb) ? a : b;
}
