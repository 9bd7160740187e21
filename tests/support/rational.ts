/**
 * Exact rational arithmetic on BigInt: the slow twin that judges sums, variances and fits in binary64.
 * Every binary64 number is an exact rational; nothing is rounded until `toNumber`.
 */
export class Rational {
  readonly numerator: bigint;
  /** Always positive; not always in lowest terms. */
  readonly denominator: bigint;

  constructor(numerator: bigint, denominator = 1n) {
    if (denominator === 0n) throw new RangeError('denominator is 0');
    this.numerator = denominator < 0n ? -numerator : numerator;
    this.denominator = denominator < 0n ? -denominator : denominator;
  }

  /** The exact value of a binary64 number. */
  static from(value: number): Rational {
    if (!Number.isFinite(value)) throw new RangeError(`${value} is not finite`);
    const view = new DataView(new ArrayBuffer(8));
    view.setFloat64(0, value);
    const bits = view.getBigUint64(0);
    const exponent = Number((bits >> 52n) & 0x7ffn);
    const fraction = bits & 0xfffffffffffffn;
    const mantissa = exponent === 0 ? fraction : fraction | (1n << 52n);
    const power = (exponent === 0 ? 1 : exponent) - 1075;
    const signed = bits >> 63n ? -mantissa : mantissa;
    if (power >= 0) return new Rational(signed << BigInt(power));
    // Trailing zeros go, so that whole numbers keep denominator 1.
    let shift = BigInt(-power);
    let top = signed;
    while (shift > 0n && (top & 1n) === 0n) {
      top >>= 1n;
      shift -= 1n;
      if (top === 0n) return new Rational(0n);
    }
    return new Rational(top, 1n << shift);
  }

  plus(other: Rational): Rational {
    const [a, b] = [this.denominator, other.denominator];
    if (a === b) return new Rational(this.numerator + other.numerator, a);
    if (a % b === 0n) return new Rational(this.numerator + other.numerator * (a / b), a);
    if (b % a === 0n) return new Rational(this.numerator * (b / a) + other.numerator, b);
    return new Rational(this.numerator * b + other.numerator * a, a * b);
  }

  minus(other: Rational): Rational {
    return this.plus(new Rational(-other.numerator, other.denominator));
  }

  times(other: Rational): Rational {
    return new Rational(this.numerator * other.numerator, this.denominator * other.denominator);
  }

  over(other: Rational): Rational {
    return new Rational(this.numerator * other.denominator, this.denominator * other.numerator);
  }

  /** In lowest terms: worth its price before many more operations. */
  reduced(): Rational {
    let [a, b] = [this.numerator < 0n ? -this.numerator : this.numerator, this.denominator];
    while (b !== 0n) [a, b] = [b, a % b];
    return a === 0n ? new Rational(0n) : new Rational(this.numerator / a, this.denominator / a);
  }

  isZero(): boolean {
    return this.numerator === 0n;
  }

  /** Nearest binary64 number, to one unit in the last place. */
  toNumber(): number {
    const negative = this.numerator < 0n;
    const top = negative ? -this.numerator : this.numerator;
    if (top === 0n) return 0;
    // About 64 significant bits of the quotient, then one rounding by Number().
    const shift = 68 - (bitLength(top) - bitLength(this.denominator));
    const quotient =
      shift >= 0 ? (top << BigInt(shift)) / this.denominator : top / (this.denominator << BigInt(-shift));
    const value = Number(quotient);
    const scaled = shift > 1000 ? value * 2 ** -1000 * 2 ** (1000 - shift) : value * 2 ** -shift;
    return negative ? -scaled : scaled;
  }

  /** Square root as a binary64 number, to one unit in the last place; the value must not be negative. */
  squareRoot(): number {
    return this.wideSquareRoot(70).toNumber();
  }

  /** Square root to about as many bits as asked for; the value must not be negative. */
  wideSquareRoot(bits = 300): Rational {
    if (this.numerator < 0n) throw new RangeError('square root of a negative number');
    if (this.isZero()) return rationalZero;
    const half = bitLength(this.numerator) - bitLength(this.denominator);
    const shift = BigInt(2 * Math.max(0, bits - Math.floor(half / 2)));
    const root = integerSquareRoot((this.numerator << shift) / this.denominator);
    return new Rational(root, 1n << (shift / 2n));
  }
}

function bitLength(value: bigint): number {
  const positive = value < 0n ? -value : value;
  return positive.toString(16).length * 4;
}

function integerSquareRoot(value: bigint): bigint {
  if (value < 2n) return value;
  let x = 1n << BigInt(Math.ceil(bitLength(value) / 2) + 1);
  for (;;) {
    const next = (x + value / x) >> 1n;
    if (next >= x) return x;
    x = next;
  }
}

export const rationalZero = new Rational(0n);

/** Exact sum of binary64 numbers. */
export function exactSum(values: readonly number[]): Rational {
  return values.reduce((total, value) => total.plus(Rational.from(value)), rationalZero);
}

/**
 * Exact solutions X of matrix·X = right, column by column of `right`, by Bareiss's fraction-free elimination: every entry
 * stays a minor of the scaled matrix, so the numbers grow no more than they must.
 */
export function solveExactly(
  matrix: readonly (readonly Rational[])[],
  right: readonly (readonly Rational[])[],
): Rational[][] {
  const n = matrix.length;
  const rows = matrix.map((row, i) => wholeNumbers([...row, ...right.map((column) => column[i]!)]));
  let before = 1n;
  for (let k = 0; k < n; k++) {
    const pivot = rows.findIndex((row, i) => i >= k && row[k] !== 0n);
    if (pivot < 0) throw new RangeError('singular matrix');
    [rows[k], rows[pivot]] = [rows[pivot]!, rows[k]!];
    const top = rows[k]!;
    for (let i = 0; i < n; i++) {
      if (i === k) continue;
      const row = rows[i]!;
      const factor = row[k]!;
      rows[i] = row.map((value, j) => (value * top[k]! - factor * top[j]!) / before);
    }
    before = top[k]!;
  }
  return right.map((_, c) => rows.map((row, k) => new Rational(row[n + c]!, row[k]!)));
}

/** A row multiplied by a common denominator. */
function wholeNumbers(row: readonly Rational[]): bigint[] {
  let common = 1n;
  for (const { denominator } of row) {
    if (denominator % common === 0n) common = denominator;
    else if (common % denominator !== 0n) common *= denominator;
  }
  return row.map((value) => value.numerator * (common / value.denominator));
}
