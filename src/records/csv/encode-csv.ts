import type { EncodedTable } from '../table-form/encode-table.js';

/**
 * CSV text: comma, decimal point, LF, quotes only where RFC 4180 asks for them, numbers in the shortest form that reads
 * back as the same double. The same table gives the same bytes.
 * @see RFC 4180, section 2
 * @example
 * encodeCsv({ name: 't', headings: ['a', 'b g'], rows: [['x, y', 0.1]] }) // => 'a,b g\n"x, y",0.1\n'
 */
export function encodeCsv(table: EncodedTable): string {
  return encodeCsvRows([table.headings, ...table.rows]);
}

/** Rows of CSV one after the other: a table part by part. */
export function encodeCsvRows(rows: EncodedTable['rows']): string {
  return rows.map((row) => `${row.map(encodeCell).join(',')}\n`).join('');
}

function encodeCell(cell: string | number): string {
  const text = String(cell);
  // Semicolons and tabs are quoted too, so that the separator of the heading is beyond doubt.
  return /[",;\t\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
