import { encodeCsv } from '../records/csv/encode-csv.js';
import { guardFormula } from '../records/formula-guard.js';
import type { Cell, Column, Table } from './document.js';

function content(cell: Cell): string | number {
  if (cell.kind === 'number') return cell.value;
  if (cell.kind === 'verdict') return cell.verdict;
  return cell.kind === 'text' ? guardFormula(cell.text) : '';
}

function title({ heading, unit }: Column): string {
  return guardFormula(unit === '' ? heading : `${heading} ${unit}`);
}

/**
 * A table as CSV: comma, decimal point, units in the headings, numbers at full precision, empty where there is no value.
 * Text that a spreadsheet would take for a formula is given an apostrophe.
 *
 * @param table caption and notes are left out
 * @returns CSV text, lines ending in LF
 * @see RFC 4180
 * @example
 * tableToCsv({ kind: 'table', id: 't', caption: '', columns: [{ heading: 'flux', unit: 'g' }], rows: [[{ kind: 'number', value: 0.1, digits: 1 }]], notes: [] }) // => "flux g\n0.1\n"
 */
export function tableToCsv(table: Table): string {
  return encodeCsv({
    name: table.id,
    headings: table.columns.map(title),
    rows: table.rows.map((row) => row.map(content)),
  });
}
