import { InputError, requireInteger } from '../../errors.js';
import { formatSignificant } from '../../quantities/rounding.js';

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

/**
 * Significant digits of the shortest text that reads back to the same number: for values that were chosen, not measured.
 *
 * @example
 * digitsAsGiven(0.025) // => 2
 */
export function digitsAsGiven(value: number): number {
  if (!Number.isFinite(value)) return 1;
  const mantissa = value.toExponential().split('e')[0] ?? '0';
  return Math.min(15, mantissa.replace(/[-.]/g, '').length);
}

/** A decimal text such as `-1234.50` or `1.2e-7`, ready to be set. */
export function typesetText(text: string): TypesetNumber {
  const [, sign = '', whole = '', decimals = '', power = ''] =
    /^(-?)(\d+)(\.\d+)?(?:e([+-]?\d+))?$/.exec(text) ?? [];
  const exponent = power.replace('+', '').replace('-', minus);
  const scale = exponent === '' ? '' : `\u2009×\u200910<sup>${exponent}</sup>`;
  return {
    whole: (sign === '' ? '' : minus) + grouped(whole),
    rest: decimals + scale,
    width: decimals.length + (exponent === '' ? 0 : 3.5 + 0.7 * exponent.length),
  };
}

/**
 * A number with `digits` significant digits, its thousands in groups, powers of ten where it is very large or small.
 *
 * @param value any number; `Infinity` is set as ∞, 0 without decimals
 * @param digits significant digits, 1 to 15
 * @returns HTML parts before and from the decimal point on
 * @throws InputError the value is not a number, or the digits are not a whole number from 1 to 15
 * @example
 * typesetNumber(12345.678, 7).rest // => ".68"
 */
export function typesetNumber(value: number, digits: number): TypesetNumber {
  if (Number.isNaN(value)) throw new InputError('a number to print: found NaN, expected a number');
  requireInteger(digits, 'digits of a number to print', 1, 15);
  if (!Number.isFinite(value)) return { whole: `${value < 0 ? minus : ''}∞`, rest: '', width: 0 };
  return typesetText(value === 0 ? '0' : formatSignificant(value, digits));
}

/** The parts of a number set one after the other, as HTML. */
export function inlineNumber({ whole, rest }: TypesetNumber): string {
  return whole + rest;
}
