import type { Cell, Column, Table } from '../document.js';
import { anchor } from './anchor.js';
import { escapeHtml } from './escape.js';
import { typesetNumber } from './typeset-number.js';
import { verdictMark } from './verdict-mark.js';

/** Columns from which on a table is set smaller and closer on paper: a page that one table overflows is shrunk whole. */
const wide = 10;

/** Width in characters that the column's numbers need from the decimal point on. */
function restWidths(table: Table): number[] {
  return table.columns.map((_, index) =>
    table.rows.reduce((widest, row) => {
      const cell = row[index];
      return cell?.kind === 'number'
        ? Math.max(widest, typesetNumber(cell.value, cell.digits).width)
        : widest;
    }, 0),
  );
}

function numberHtml(value: number, digits: number, width: number): string {
  const { whole, rest } = typesetNumber(value, digits);
  if (width === 0) return whole;
  return `${whole}<span class="rest" style="min-width:${width.toFixed(1)}ch">${rest}</span>`;
}

function contentHtml(cell: Cell, width: number): string {
  if (cell.kind === 'number') return numberHtml(cell.value, cell.digits, width);
  if (cell.kind === 'verdict') return verdictMark(cell.verdict);
  if (cell.kind === 'empty') return escapeHtml(cell.reason);
  const text = escapeHtml(cell.text);
  return cell.link === undefined ? text : `<a href="#${anchor(cell.link)}">${text}</a>`;
}

/** A date or the name of a solution must not be broken at its hyphens, nor a unit at its space. */
const isShortName = /^(\S{1,10}|g\/100 g)$/;

function cellHtml(cell: Cell, numeric: boolean, width: number, heads: boolean): string {
  const empty = numeric ? 'number empty' : 'empty';
  const date = cell.kind === 'text' && isShortName.test(cell.text) ? 'date' : '';
  const kind = { number: 'number', empty, verdict: 'mark', text: date }[cell.kind];
  const attribute = kind === '' ? '' : ` class="${kind}"`;
  const tag = heads ? 'th' : 'td';
  return `<${tag}${heads ? ' scope="row"' : ''}${attribute}>${contentHtml(cell, width)}</${tag}>`;
}

function headHtml(columns: readonly Column[], numeric: readonly boolean[]): string {
  const cells = columns.map((column, index) => {
    const unit = column.unit === '' ? '' : ` <span class="unit">${escapeHtml(column.unit)}</span>`;
    const attribute = numeric[index] ? ' class="number"' : '';
    return `<th scope="col"${attribute}>${escapeHtml(column.heading)}${unit}</th>`;
  });
  return `<thead><tr>${cells.join('')}</tr></thead>`;
}

function textOf(cell: Cell | undefined): string {
  return cell?.kind === 'text' ? cell.text : '';
}

/** Runs of rows that share the text of the grouping column; one nameless group where there is none. */
function groups(table: Table): { name: string; rows: (readonly Cell[])[] }[] {
  const found: { name: string; rows: (readonly Cell[])[] }[] = [];
  for (const row of table.rows) {
    const name = table.groupedBy === undefined ? '' : textOf(row[table.groupedBy]);
    const last = found.at(-1);
    if (last !== undefined && last.name === name) last.rows.push(row);
    else found.push({ name, rows: [row] });
  }
  return found;
}

function bodyHtml(table: Table, numeric: readonly boolean[]): string {
  const widths = restWidths(table);
  const shown = table.columns.map((_, index) => index).filter((index) => index !== table.groupedBy);
  return groups(table)
    .map(({ name, rows }) => {
      const heading =
        table.groupedBy === undefined
          ? ''
          : `<tr class="group"><th scope="rowgroup" colspan="${shown.length}">${escapeHtml(name)}</th></tr>`;
      const lines = rows.map((row) => {
        const cells = shown.map((index, place) => {
          const cell = row[index] ?? { kind: 'empty' as const, reason: '' };
          return cellHtml(
            cell,
            numeric[index] ?? false,
            widths[index] ?? 0,
            place === 0 && cell.kind === 'text',
          );
        });
        return `<tr>${cells.join('')}</tr>`;
      });
      return `<tbody>${heading}${lines.join('\n')}</tbody>`;
    })
    .join('\n');
}

/** Notes under a table or a figure, as HTML. */
export function notesHtml(notes: readonly string[]): string {
  if (notes.length === 0) return '';
  return `<ul class="notes">${notes.map((note) => `<li>${escapeHtml(note)}</li>`).join('')}</ul>`;
}

/**
 * A table as HTML: caption, headings with units and scope, numbers set on the decimal point, notes below.
 *
 * @param table every text in it is escaped
 * @param withAnchor false where another element already bears the table's anchor
 * @example
 * renderTableHtml({ kind: 'table', id: 't', caption: 'C', columns: [], rows: [], notes: [] }).includes('id="t"') // => true
 */
export function renderTableHtml(table: Table, withAnchor = true): string {
  const numeric = table.columns.map((_, index) => table.rows.some((row) => row[index]?.kind === 'number'));
  const shownNumeric = numeric.filter((_, index) => index !== table.groupedBy);
  const shownColumns = table.columns.filter((_, index) => index !== table.groupedBy);
  const id = withAnchor ? ` id="${anchor(table.id)}"` : '';
  return (
    `<div class="table${shownColumns.length >= wide ? ' wide' : ''}"${id}><table><caption>${escapeHtml(table.caption)}</caption>\n` +
    `${headHtml(shownColumns, shownNumeric)}\n${bodyHtml(table, numeric)}</table>` +
    `${notesHtml(table.notes)}</div>`
  );
}
