import { InputError } from '../../errors.js';

/** A number ready to be set: what stands before the decimal point, and the point with all that follows. */
export interface TypesetNumber {
  readonly whole: string;
  readonly rest: string;
  /** Width of `rest` in characters, for columns set on the decimal point. */
  readonly width: number;
}

const minus = '\u2212';
const thin = '\u202f';

function grouped(digits: string): string {
  return digits.length < 5 ? digits : digits.replace(/\B(?=(\d{3})+$)/g, thin);
}

/** Powers of ten from here on are written out as such. */
const largestExponent = 7;
const smallestExponent = -5;

/**
 * Significant digits of the shortest text that reads back to the same number: for values that were chosen, not measured.
 *
 * @example
 * digitsAsGiven(0.025) // => 2
 */
export function digitsAsGiven(value: number): number {
  if (!Number.isFinite(value)) return 1;
  const mantissa = value.toExponential().split('e')[0] ?? '0';
  return Math.max(1, mantissa.replace(/[-.]/g, '').length);
}

function decimalString(value: number, digits: number): { mantissa: string; exponent: number } {
  const [mantissa = '0', power = '0'] = value.toExponential(digits - 1).split('e');
  const exponent = Number(power);
  if (exponent >= largestExponent || exponent < smallestExponent) return { mantissa, exponent };
  const decimals = digits - 1 - exponent;
  if (decimals >= 0) return { mantissa: Number(`${mantissa}e${exponent}`).toFixed(decimals), exponent: 0 };
  return { mantissa: String(Math.round(Number(`${mantissa}e${exponent}`))), exponent: 0 };
}

/**
 * A number with `digits` significant digits, its thousands in groups, powers of ten where it is very large or small.
 *
 * @param value any number; `Infinity` is set as ∞
 * @param digits significant digits, 1 to 17
 * @returns HTML parts before and from the decimal point on
 * @throws InputError the value is not a number, or the digits are not a whole number from 1 to 17
 * @example
 * typesetNumber(12345.678, 7).rest // => ".68"
 */
export function typesetNumber(value: number, digits: number): TypesetNumber {
  if (Number.isNaN(value)) throw new InputError('a table cell: found NaN, expected a number');
  if (!Number.isInteger(digits) || digits < 1 || digits > 17) {
    throw new InputError(`digits of a table cell: found ${digits}, expected a whole number from 1 to 17`);
  }
  const sign = value < 0 ? minus : '';
  if (!Number.isFinite(value)) return { whole: `${sign}∞`, rest: '', width: 0 };
  if (value === 0) return { whole: '0', rest: '', width: 0 };
  const { mantissa, exponent } = decimalString(Math.abs(value), digits);
  const [whole = '0', decimals = ''] = mantissa.split('.');
  const point = decimals === '' ? '' : `.${decimals}`;
  const power = exponent === 0 ? '' : String(exponent).replace('-', minus);
  const scale = power === '' ? '' : `\u2009×\u200910<sup>${power}</sup>`;
  const width = point.length + (power === '' ? 0 : 3.5 + 0.7 * power.length);
  return { whole: sign + grouped(whole), rest: point + scale, width };
}
