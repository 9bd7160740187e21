import { formatSignificant, roundToUncertainty } from '../quantities/rounding.js';
import type { Verdict } from '../validation/finding.js';
import type { Cell, Column } from './document.js';

/** A cell of text; `link` is the identifier of what it leads to. */
export function text(content: string, link?: string): Cell {
  return link === undefined ? { kind: 'text', text: content } : { kind: 'text', text: content, link };
}

/**
 * A cell of a number, shown with `digits` significant digits.
 *
 * @example
 * number(0.12345, 2).kind // => "number"
 */
export function number(value: number, digits: number): Cell {
  return { kind: 'number', value, digits };
}

/** A cell of a number where there is one, and of the reason where there is none. */
export function numberOr(value: number | null, digits: number, reason: string): Cell {
  return value === null ? { kind: 'empty', reason } : number(value, digits);
}

/**
 * A cell of a value, or of its uncertainty, rounded to two significant digits of the uncertainty.
 *
 * @param uncertainty above 0, in the unit of the value
 * @throws InputError a value that is not finite, an uncertainty not above 0
 * @example
 * roundedCell(99.534, 1.04) // => { kind: 'number', value: 99.534, digits: 3 }
 */
export function roundedCell(value: number, uncertainty: number): Cell {
  const { valueText, value: rounded, decimals } = roundToUncertainty(value, uncertainty);
  if (rounded === 0) return number(0, Math.max(1, decimals + 1));
  const digits = valueText.replace(/[-.]/g, '').replace(/^0+/, '').length;
  // 99.96 ± 1.0 is 100.0, one digit more than the whole value would show.
  return number(formatSignificant(value, digits) === valueText ? value : rounded, digits);
}

/** A cell of an estimate or limit: three digits, four from 100 on, where a recovery would else show no part of a per cent. */
export function estimateCell(value: number | null): Cell {
  return numberOr(
    value,
    value !== null && Math.abs(value) >= 99.95 && Math.abs(value) < 1000 ? 4 : 3,
    'none',
  );
}

/**
 * A cell of degrees of freedom: whole ones as they are, others to a tenth, from 100 on cut to whole ones.
 *
 * @example
 * degreesOfFreedomCell(17.34, 'none') // => { kind: 'number', value: 17.34, digits: 3 }
 */
export function degreesOfFreedomCell(value: number | null, reason: string): Cell {
  if (value === null || !Number.isFinite(value)) return numberOr(value, 1, reason);
  const whole = Math.trunc(Math.abs(value)).toString().length;
  if (value >= 100) return number(Math.trunc(value), Math.min(15, whole));
  const toATenth = Math.round(10 * value) / 10;
  return Number.isInteger(toATenth) ? number(toATenth, String(toATenth).length) : number(value, whole + 1);
}

/** A cell of a count, in full. */
export function countCell(value: number): Cell {
  return number(value, Math.min(15, String(value).length));
}

/** A cell of a verdict, shown by shape and word. */
export function verdictCell(verdict: Verdict): Cell {
  return { kind: 'verdict', verdict };
}

/** A cell that holds nothing, with the reason shown in its place. */
export function empty(reason: string): Cell {
  return { kind: 'empty', reason };
}

/** A column of a table; the unit may be left out. */
export function column(heading: string, unit = ''): Column {
  return { heading, unit };
}
