import { InputError } from '../../errors.js';
import { guardFormula } from '../formula-guard.js';
import { quoteFound } from '../issue-list.js';
import { refused } from './column.js';
import { matchHeadings } from './match-headings.js';
import { rowKey, type Table } from './table.js';

/** A table as headings and cells: numbers stay numbers, texts are guarded against being run as formulas. */
export interface EncodedTable {
  readonly name: string;
  readonly headings: readonly string[];
  readonly rows: readonly (readonly (string | number)[])[];
}

/**
 * Cells of a table, ready for CSV or a workbook. Decoding them gives the same records.
 * @throws InputError a value the table's own decoder would refuse or change (table, key and column are named)
 */
export function encodeTable<R>(table: Table<R>, records: readonly R[]): EncodedTable {
  const fields = Object.keys(table.columns) as (keyof R & string)[];
  const places = fields.flatMap((field) => placesOf(table, field, records));
  const headings = places.map(({ heading }) => heading);
  const { problems, noOpenColumn } = matchHeadings(table, headings);
  const problem = records.length === 0 ? null : (problems[0] ?? noOpenColumn);
  if (problem !== null) {
    throw new InputError(`${table.name}: found ${problem.found}, expected ${problem.expected}`);
  }
  return {
    name: table.name,
    headings: headings.map(guardFormula),
    rows: records.map((record) => places.map((place) => encodeCell(table, record, place))),
  };
}

interface Place<R> {
  readonly field: keyof R & string;
  readonly heading: string;
}

function placesOf<R>(table: Table<R>, field: keyof R & string, records: readonly R[]): Place<R>[] {
  const column = table.columns[field];
  if (column.kind !== 'open') {
    const isUnused = column.isLeftOutUnused && records.every((record) => column.encode(record[field]) === '');
    return isUnused ? [] : [{ field, heading: column.heading }];
  }
  const headings = records.map((record) => [...column.encode(record[field]).keys()].sort());
  const [first = []] = headings;
  records.forEach((record, i) => {
    if (headings[i]!.join('\n') === first.join('\n')) return;
    throw refusal(
      table,
      record,
      'the open columns',
      headings[i]!.join(', '),
      `${first.join(', ')} as in the first row`,
    );
  });
  return first.map((heading) => ({ field, heading }));
}

function encodeCell<R>(table: Table<R>, record: R, { field, heading }: Place<R>): string | number {
  const column = table.columns[field];
  if (column.kind === 'open') {
    const cells = column.encode(record[field]);
    if (column.decode(cells) !== refused) return cells.get(heading)!;
    throw refusal(table, record, `"${heading}"`, quoteFound(cells.get(heading)!), column.expected);
  }
  const cell = column.encode(record[field]);
  const back = cell === '' ? column.empty : column.decode(typeof cell === 'string' ? cell.trim() : cell);
  const isSame = back !== refused && column.encode(back) === cell;
  if (!isSame) throw refusal(table, record, `"${column.heading}"`, quoteFound(cell), column.expected);
  return typeof cell === 'string' ? guardFormula(cell) : cell;
}

function refusal<R>(table: Table<R>, record: R, what: string, found: string, expected: string): InputError {
  return new InputError(
    `${table.name}, ${rowKey(table, record)}, ${what}: found ${found}, expected ${expected}`,
  );
}
