import { unguardFormula } from '../formula-guard.js';
import { quoteFound } from '../issue-list.js';
import type { Table } from './table.js';

/** A heading that does not fit the table. */
export interface HeadingProblem {
  readonly code: string;
  readonly column: string;
  readonly found: string;
  readonly expected: string;
}

/** Where each field stands in the file. */
export interface MatchedHeadings<R> {
  readonly places: ReadonlyMap<keyof R & string, number>;
  /** Headings that the table leaves open, with their places. */
  readonly open: ReadonlyMap<string, number>;
  readonly problems: readonly HeadingProblem[];
  /** Set where a table with open columns has none: a problem as soon as it has a row, and not before. */
  readonly noOpenColumn: HeadingProblem | null;
}

/**
 * Finds the columns of a table among the headings of a file, in any order. A heading is compared to the letter, as its
 * unit is part of it (`flux g` is not `flux mg`); several blanks count as one.
 */
export function matchHeadings<R>(table: Table<R>, headings: readonly string[]): MatchedHeadings<R> {
  const fields = Object.keys(table.columns) as (keyof R & string)[];
  const known = new Map<string, keyof R & string>();
  let isOpen = false;
  for (const field of fields) {
    const column = table.columns[field];
    if (column.kind === 'open') isOpen = true;
    else known.set(column.heading, field);
  }
  const places = new Map<keyof R & string, number>();
  const open = new Map<string, number>();
  const problems: HeadingProblem[] = [];
  const seen = new Set<string>();
  headings.forEach((raw, index) => {
    const heading = unguardFormula(raw.trim()).replace(/\s+/g, ' ');
    const field = known.get(heading);
    if (seen.has(heading) && heading !== '') problems.push(twice(heading));
    else if (field !== undefined) places.set(field, index);
    else if (isOpen && heading !== '' && !misspelt(heading, known)) open.set(heading, index);
    else problems.push(unknown(heading, index, [...known.keys()]));
    seen.add(heading);
  });
  for (const [heading, field] of known) {
    const column = table.columns[field];
    if (column.kind === 'open' || !column.required || places.has(field)) continue;
    const expected = `a column "${heading}": ${column.expected}`;
    problems.push({ code: 'missing column', column: heading, found: 'no such column', expected });
  }
  return { places, open, problems, noOpenColumn: isOpen && open.size === 0 ? noOpenColumn(known) : null };
}

function noOpenColumn(known: ReadonlyMap<string, unknown>): HeadingProblem {
  return {
    code: 'missing column',
    column: 'factor',
    found: `only the columns ${[...known.keys()].map((each) => `"${each}"`).join(', ')}`,
    expected: 'one column for each factor, headed by its name',
  };
}

function twice(heading: string): HeadingProblem {
  const found = `${quoteFound(heading)} a second time`;
  return { code: 'column twice', column: heading, found, expected: 'each heading once' };
}

function unknown(heading: string, index: number, known: readonly string[]): HeadingProblem {
  const column = heading === '' ? `column ${index + 1}` : heading;
  const found = heading === '' ? 'an empty heading' : `the heading ${quoteFound(heading)}`;
  const near = known.find((each) => quantityOf(each) === quantityOf(heading));
  if (near !== undefined) return { code: 'unit', column, found, expected: `the heading "${near}"` };
  return { code: 'unknown column', column, found, expected: `one of: ${known.join(', ')}` };
}

function misspelt(heading: string, known: ReadonlyMap<string, unknown>): boolean {
  return [...known.keys()].some((each) => each.toLowerCase() === heading.toLowerCase());
}

const units = /^(g|mg|kg|ug|µg|μg|nm|ml|l|%|ppm|counts|cps|s|1)([/ ].*)?$/i;

/** The heading without its unit, in small letters: `Flux mg` → `flux`. */
function quantityOf(heading: string): string {
  const words = heading
    .toLowerCase()
    .replace(/[()[\],]/g, ' ')
    .trim()
    .split(/\s+/);
  const start = words.findIndex((_, i) => i > 0 && units.test(words.slice(i).join(' ')));
  return (start < 0 ? words : words.slice(0, start)).join(' ');
}
