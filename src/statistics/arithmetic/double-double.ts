/**
 * A number of about 106 bits as the unevaluated sum of two binary64 numbers, |lo| at most half a unit in the last place
 * of hi. The sums behind variances and fits are carried in this form, so that data of large offset or nearly collinear
 * columns lose no digit of the result.
 *
 * @see Dekker 1971, Numer. Math. 18, 224; Hida, Li and Bailey 2001, ARITH-15, 155
 */
export interface DoubleDouble {
  readonly hi: number;
  readonly lo: number;
}

export const zero: DoubleDouble = { hi: 0, lo: 0 };
export const one: DoubleDouble = { hi: 1, lo: 0 };

/** The double-double equal to a binary64 number. */
export function wide(value: number): DoubleDouble {
  return { hi: value, lo: 0 };
}

/** The binary64 number nearest to a double-double. */
export function narrow(value: DoubleDouble): number {
  return value.hi + value.lo;
}

function quickTwoSum(a: number, b: number): DoubleDouble {
  const hi = a + b;
  return { hi, lo: b - (hi - a) };
}

/** a + b without error. */
export function twoSum(a: number, b: number): DoubleDouble {
  const hi = a + b;
  const v = hi - a;
  return { hi, lo: a - (hi - v) + (b - v) };
}

const splitter = 134217729; // 2^27 + 1

/** a × b without error while |a|, |b| < 2^996 and the product's low half does not underflow. */
export function twoProduct(a: number, b: number): DoubleDouble {
  const hi = a * b;
  const ta = splitter * a;
  const ah = ta - (ta - a);
  const al = a - ah;
  const tb = splitter * b;
  const bh = tb - (tb - b);
  const bl = b - bh;
  return { hi, lo: ah * bh - hi + ah * bl + al * bh + al * bl };
}

// A sum is written out in plain numbers: an object for each of its steps is what most of its time would go into.

export function add(a: DoubleDouble, b: DoubleDouble): DoubleDouble {
  return sumOf(a.hi, a.lo, b.hi, b.lo);
}

function sumOf(aHi: number, aLo: number, bHi: number, bLo: number): DoubleDouble {
  const s = aHi + bHi;
  const v = s - aHi;
  const sLo = aHi - (s - v) + (bHi - v);
  const t = aLo + bLo;
  const w = t - aLo;
  const tLo = aLo - (t - w) + (bLo - w);
  const first = sLo + t;
  const u = s + first;
  const second = first - (u - s) + tLo;
  const hi = u + second;
  return { hi, lo: second - (hi - u) };
}

export function negate(a: DoubleDouble): DoubleDouble {
  return { hi: -a.hi, lo: -a.lo };
}

export function subtract(a: DoubleDouble, b: DoubleDouble): DoubleDouble {
  return sumOf(a.hi, a.lo, -b.hi, -b.lo);
}

export function multiply(a: DoubleDouble, b: DoubleDouble): DoubleDouble {
  return productOf(a.hi, a.lo, b.hi, b.lo);
}

function productOf(aHi: number, aLo: number, bHi: number, bLo: number): DoubleDouble {
  const { hi, lo } = twoProduct(aHi, bHi);
  return quickTwoSum(hi, lo + (aHi * bLo + aLo * bHi));
}

export function square(a: DoubleDouble): DoubleDouble {
  return multiply(a, a);
}

/** a / b; b must not be 0. */
export function divide(a: DoubleDouble, b: DoubleDouble): DoubleDouble {
  const q1 = a.hi / b.hi;
  const r1 = subtract(a, productOf(q1, 0, b.hi, b.lo));
  const q2 = r1.hi / b.hi;
  const r2 = subtract(r1, productOf(q2, 0, b.hi, b.lo));
  const q = q1 + q2;
  return sumOf(q, q2 - (q - q1), r2.hi / b.hi, 0);
}

/** Square root of a number of at least 0. */
export function squareRoot(a: DoubleDouble): DoubleDouble {
  if (a.hi <= 0) return zero;
  const s = Math.sqrt(a.hi);
  const r = subtract(a, twoProduct(s, s));
  return quickTwoSum(s, r.hi / (2 * s));
}

/**
 * A sum of squares, or 0 where it is no more than what rounding in 106 bits leaves of data with the sum of squares `scale`:
 * figures that are equal must come out as equal.
 */
export function withoutNoise(sumOfSquares: DoubleDouble, scale: number): DoubleDouble {
  return sumOfSquares.hi > 1e-50 * scale ? sumOfSquares : zero;
}

/** Sum of binary64 numbers, to about 32 digits of the sum of their absolute values. */
export function sum(values: ArrayLike<number>): DoubleDouble {
  let total = zero;
  for (let i = 0; i < values.length; i++) total = add(total, wide(values[i]!));
  return total;
}

/** Sum of the products a_i·b_i, to about 32 digits of the sum of their absolute values. */
export function dot(a: readonly DoubleDouble[], b: readonly DoubleDouble[]): DoubleDouble {
  let total = zero;
  for (let i = 0; i < a.length; i++) total = add(total, multiply(a[i]!, b[i]!));
  return total;
}
