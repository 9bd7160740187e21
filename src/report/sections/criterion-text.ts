import type { Criterion } from '../../validation/finding.js';

function signed(value: number): string {
  return String(value).replace('-', '\u2212');
}

/**
 * A criterion in the short form of tables, its limits as they were given.
 *
 * @example
 * criterionText({ kind: 'within', limit: 3, unit: '%', reason: '', owner: '' }) // => "\u22123 to 3 %"
 */
export function criterionText({ kind, limit, lower, unit }: Criterion): string {
  const tail = unit === '' || unit === '1' ? '' : ` ${unit}`;
  if (kind === 'at most') return `≤ ${signed(limit)}${tail}`;
  if (kind === 'at least') return `≥ ${signed(limit)}${tail}`;
  return `${signed(lower ?? -limit)} to ${signed(limit)}${tail}`;
}
