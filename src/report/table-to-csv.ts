import type { Cell, Column, Table } from './document.js';

/** A spreadsheet would read text with these beginnings as a formula; an apostrophe before it keeps it text. */
function guarded(text: string): string {
  return /^[=+\-@\t\r]/.test(text) ? `'${text}` : text;
}

function field(text: string): string {
  const safe = guarded(text);
  return /[",\r\n]/.test(safe) ? `"${safe.replace(/"/g, '""')}"` : safe;
}

function cellText(cell: Cell): string {
  if (cell.kind === 'number') return String(cell.value);
  if (cell.kind === 'verdict') return cell.verdict;
  return cell.kind === 'text' ? field(cell.text) : '';
}

function heading({ heading, unit }: Column): string {
  return field(unit === '' ? heading : `${heading} ${unit}`);
}

/**
 * A table as CSV: comma, decimal point, units in the headings, numbers at full precision, empty where there is no value.
 * Text that a spreadsheet would take for a formula is given an apostrophe.
 *
 * @param table caption and notes are left out
 * @returns CSV text, lines ending in CR LF
 * @see RFC 4180
 * @example
 * tableToCsv({ kind: 'table', id: 't', caption: '', columns: [{ heading: 'flux', unit: 'g' }], rows: [[{ kind: 'number', value: 0.1, digits: 1 }]], notes: [] }) // => "flux g\r\n0.1\r\n"
 */
export function tableToCsv(table: Table): string {
  const lines = [table.columns.map(heading), ...table.rows.map((row) => row.map(cellText))];
  return lines.map((line) => `${line.join(',')}\r\n`).join('');
}
