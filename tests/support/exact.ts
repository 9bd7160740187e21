/**
 * Exact rational arithmetic on the binary64 values themselves: the slow twin that judges the fast code.
 * A value is numerator / denominator with a positive denominator.
 */
export interface Rational {
  readonly top: bigint;
  readonly bottom: bigint;
}

export function rational(top: bigint, bottom = 1n): Rational {
  if (bottom === 0n) throw new RangeError('division by zero');
  return bottom < 0n ? reduce(-top, -bottom) : reduce(top, bottom);
}

/** The double's exact value: an integer times a power of two. */
export function exactly(x: number): Rational {
  if (!Number.isFinite(x)) throw new RangeError(`${x} is not finite`);
  const view = new DataView(new ArrayBuffer(8));
  view.setFloat64(0, x);
  const bits = view.getBigUint64(0);
  const exponent = Number((bits >> 52n) & 2047n);
  const fraction = bits & ((1n << 52n) - 1n);
  const significand = exponent === 0 ? fraction : fraction | (1n << 52n);
  const power = (exponent === 0 ? 1 : exponent) - 1075;
  const signed = x < 0 ? -significand : significand;
  return power >= 0 ? rational(signed << BigInt(power)) : rational(signed, 1n << BigInt(-power));
}

export function add(a: Rational, b: Rational): Rational {
  return rational(a.top * b.bottom + b.top * a.bottom, a.bottom * b.bottom);
}

export function subtract(a: Rational, b: Rational): Rational {
  return rational(a.top * b.bottom - b.top * a.bottom, a.bottom * b.bottom);
}

export function multiply(a: Rational, b: Rational): Rational {
  return rational(a.top * b.top, a.bottom * b.bottom);
}

export function divide(a: Rational, b: Rational): Rational {
  return rational(a.top * b.bottom, a.bottom * b.top);
}

/** Square root to 40 significant digits, as a rational. */
export function squareRoot(a: Rational): Rational {
  if (a.top === 0n) return a;
  const scale = 1n << BigInt(Math.max(0, a.bottom.toString(2).length - a.top.toString(2).length) + 300);
  return rational(integerRoot((a.top * scale * scale) / a.bottom), scale);
}

/** The nearest double, by way of 40 significant digits. */
export function toNumber(a: Rational): number {
  if (a.top === 0n) return 0;
  const negative = a.top < 0n;
  const top = negative ? -a.top : a.top;
  const exponent = top.toString().length - a.bottom.toString().length - 40;
  const digits =
    exponent < 0 ? (top * 10n ** BigInt(-exponent)) / a.bottom : top / (a.bottom * 10n ** BigInt(exponent));
  return Number(`${negative ? '-' : ''}${digits}e${exponent}`);
}

/** |a − b| / |b| as a double; |a| where b is 0. */
export function relativeError(a: number, b: Rational): number {
  const difference = subtract(exactly(a), b);
  return Math.abs(toNumber(b.top === 0n ? difference : divide(difference, b)));
}

export function exactSum(values: readonly Rational[]): Rational {
  return values.reduce(add, rational(0n));
}

export function exactMean(values: readonly number[]): Rational {
  return divide(exactSum(values.map(exactly)), rational(BigInt(values.length)));
}

export function exactSumOfSquares(values: readonly number[]): Rational {
  const centre = exactMean(values);
  return exactSum(
    values.map((x) => {
      const deviation = subtract(exactly(x), centre);
      return multiply(deviation, deviation);
    }),
  );
}

export function exactVariance(values: readonly number[]): Rational {
  return divide(exactSumOfSquares(values), rational(BigInt(values.length - 1)));
}

function reduce(top: bigint, bottom: bigint): Rational {
  let a = top < 0n ? -top : top;
  let b = bottom;
  while (b !== 0n) [a, b] = [b, a % b];
  return a === 0n ? { top: 0n, bottom: 1n } : { top: top / a, bottom: bottom / a };
}

function integerRoot(n: bigint): bigint {
  let x = 1n << BigInt(Math.ceil(n.toString(2).length / 2));
  for (;;) {
    const next = (x + n / x) >> 1n;
    if (next >= x) return x;
    x = next;
  }
}
