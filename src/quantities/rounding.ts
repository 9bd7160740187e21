import { InputError, requireFinite, requireInteger, requirePositive } from '../errors.js';
import { decimalsFor, toDecimals, toScientific } from './decimal.js';

/** A value and its uncertainty rounded to the same decimal place. */
export interface RoundedResult {
  readonly value: number;
  readonly uncertainty: number;
  /** With the zeros that rounding keeps: `0.420`. */
  readonly valueText: string;
  readonly uncertaintyText: string;
  /** Decimal places of both; negative: tens, hundreds … */
  readonly decimals: number;
}

/**
 * A result rounded to its uncertainty: so many significant digits of the uncertainty, and the value to the same place;
 * a half goes to the even digit.
 *
 * @param value in any unit
 * @param uncertainty standard or expanded, in the same unit, above 0
 * @param digits significant digits of the uncertainty
 * @throws InputError a value that is not finite, an uncertainty not above 0, digits other than 1 to 10
 * @see JCGM 100:2008, 7.2.6; half to even: ISO 80000-1:2022, Annex B, rule A
 * @example
 * roundToUncertainty(100.145, 0.333).valueText // => '100.14'
 */
export function roundToUncertainty(value: number, uncertainty: number, digits = 2): RoundedResult {
  requireFinite([value], 'value');
  requirePositive(uncertainty, 'uncertainty');
  requireInteger(digits, 'significant digits', 1, 10);
  const decimals = decimalsFor(uncertainty, digits);
  const valueText = toDecimals(value, decimals);
  const uncertaintyText = toDecimals(uncertainty, decimals);
  return {
    value: Number(valueText),
    uncertainty: Number(uncertaintyText),
    valueText,
    uncertaintyText,
    decimals,
  };
}

/**
 * Text of a number with so many significant digits, a half going to the even digit. Numbers from 1e-5 up to below 1e9 are
 * written out, others as `1.23e-7`.
 *
 * @throws InputError a value that is not finite, digits other than 1 to 15
 * @example
 * formatSignificant(0.0123449, 3) // => '0.0123'
 */
export function formatSignificant(value: number, digits: number): string {
  if (!Number.isFinite(value)) throw new InputError(`value: found ${value}, expected a finite number`);
  requireInteger(digits, 'significant digits', 1, 15);
  if (value === 0) return toDecimals(0, digits - 1);
  const size = Math.abs(value);
  if (size < 1e-5 || size >= 1e9) return toScientific(value, digits);
  return toDecimals(value, decimalsFor(value, digits));
}
