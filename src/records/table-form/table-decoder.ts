import { unguardFormula } from '../formula-guard.js';
import { type IssueList, quoteFound } from '../issue-list.js';
import { type Column, type ColumnKind, type Refused, refused } from './column.js';
import { type HeadingProblem, matchHeadings } from './match-headings.js';
import type { NumberReader } from './number-reader.js';
import { headingOf, type Table } from './table.js';

/** The cells of one row, wherever they come from. Texts come without blanks at their ends. */
export interface RowCells {
  readonly count: number;
  isEmpty(index: number): boolean;
  /** NaN where the cell holds no number. */
  number(index: number, column: string): number;
  /** `kind` tells a spreadsheet's moment from its day. */
  text(index: number, kind?: ColumnKind): string;
}

/** A table after decoding: the sound records, and what could be read of the others. */
export interface DecodedTable<R> {
  readonly file: string;
  readonly records: readonly R[];
  /** Row of each record in its file; the heading is row 1. */
  readonly rows: readonly number[];
  /** What could be read of rows with a problem, so that a reference to such a row is not a second problem. */
  readonly broken: readonly Partial<R>[];
  /** False where headings or the form of the file are wrong: nothing then follows from a row that is not there. */
  readonly isWhole: boolean;
}

/** A column of a table and its place in a file. */
export interface BoundColumn<R> {
  readonly field: keyof R & string;
  readonly column: Column<R[keyof R & string]>;
  readonly isNumeric: boolean;
  /** Place in the file, −1 where an optional column is absent. */
  readonly index: number;
  /** Decoded texts: the same names, dates and choices come back thousands of times. */
  readonly memory: Map<string, R[keyof R & string] | Refused>;
}

const longestMemory = 50_000;

/** Turns rows of cells into records, one at a time, and writes down every problem. */
export class TableDecoder<R> {
  readonly #table: Table<R>;
  readonly #file: string;
  readonly #issues: IssueList;
  readonly #numbers: NumberReader;
  readonly #records: R[] = [];
  readonly #rows: number[] = [];
  readonly #checkRow: NonNullable<Table<R>['checkRow']> | null;
  readonly #keep: ((record: R, row: number) => void) | null;
  readonly #broken: Partial<R>[] = [];
  #columns: BoundColumn<R>[] = [];
  #open: { readonly field: keyof R & string; readonly places: ReadonlyMap<string, number> } | null = null;
  #noOpenColumn: HeadingProblem | null = null;
  #width = 0;
  #isWhole = true;

  /** @param keep where sound records go; absent: into the decoded table */
  constructor(
    table: Table<R>,
    file: string,
    numbers: NumberReader,
    issues: IssueList,
    keep?: (record: R, row: number) => void,
  ) {
    this.#table = table;
    this.#file = file;
    this.#numbers = numbers;
    this.#issues = issues;
    this.#checkRow = table.checkRow ?? null;
    this.#keep = keep ?? null;
  }

  /** Columns with their places, once the heading was taken. */
  get columns(): readonly BoundColumn<R>[] {
    return this.#columns;
  }

  /** True where the table leaves columns open: their headings are known from the file alone. */
  get hasOpenColumns(): boolean {
    return this.#open !== null;
  }

  /** Takes the heading row. False: the rows below it cannot be read. */
  heading(names: readonly string[]): boolean {
    const { places, open, problems, noOpenColumn } = matchHeadings(this.#table, names);
    for (const problem of problems) this.#refuseHeading(problem);
    this.#noOpenColumn = noOpenColumn;
    this.#width = names.length;
    this.#isWhole = problems.length === 0;
    for (const field of Object.keys(this.#table.columns) as (keyof R & string)[]) {
      const column = this.#table.columns[field];
      if (column.kind === 'open') {
        this.#open = { field, places: open };
        continue;
      }
      const isNumeric = column.kind === 'number' || column.kind === 'integer';
      this.#columns.push({ field, column, isNumeric, index: places.get(field) ?? -1, memory: new Map() });
    }
    return this.#isWhole;
  }

  /** Takes one row below the heading; a row without any content is passed over. */
  row(cells: RowCells, row: number): void {
    if (isBlank(cells)) return;
    if (this.#noOpenColumn !== null) {
      this.#refuseHeading(this.#noOpenColumn);
      this.#noOpenColumn = null;
      this.#isWhole = false;
    }
    if (cells.count !== this.#width) {
      const expected = `${this.#width} cells, as in the heading`;
      this.#refuse('row length', row, null, `${cells.count} cells`, expected);
      this.#isWhole = false;
      return;
    }
    const record: Partial<R> = {};
    let isSound = true;
    for (const bound of this.#columns) {
      const value = this.#cell(bound, cells, row);
      if (value === refused) isSound = false;
      else record[bound.field] = value;
    }
    if (this.#open !== null && !this.#openCells(record, this.#open, cells, row)) isSound = false;
    // Every field was decoded, so the record is complete.
    if (isSound) this.take(record as R, row);
    else this.#broken.push(record);
  }

  /** To be called where the form of the file breaks off. */
  markBroken(): void {
    this.#isWhole = false;
  }

  finish(): DecodedTable<R> {
    this.#numbers.report(this.#issues);
    const [records, rows, broken] = [this.#records, this.#rows, this.#broken];
    return { file: this.#file, records, rows, broken, isWhole: this.#isWhole };
  }

  #cell(bound: BoundColumn<R>, cells: RowCells, row: number): R[keyof R & string] | Refused {
    const { column, index } = bound;
    if (index < 0) return column.empty;
    if (cells.isEmpty(index)) {
      if (column.empty === refused) this.#refuseCell(column, row, '');
      return column.empty;
    }
    const value = bound.isNumeric
      ? column.decode(cells.number(index, column.heading))
      : this.#text(bound, cells.text(index, column.kind));
    if (value === refused) this.#refuseCell(column, row, cells.text(index));
    return value;
  }

  #text(bound: BoundColumn<R>, cell: string): R[keyof R & string] | Refused {
    const known = bound.memory.get(cell);
    if (known !== undefined) return known;
    const value = bound.column.decode(unguardFormula(cell));
    if (bound.memory.size < longestMemory) bound.memory.set(cell, value);
    return value;
  }

  #openCells(
    record: Partial<R>,
    open: { readonly field: keyof R & string; readonly places: ReadonlyMap<string, number> },
    cells: RowCells,
    row: number,
  ): boolean {
    const column = this.#table.columns[open.field];
    if (column.kind !== 'open') return true;
    const values = new Map<string, number>();
    for (const [heading, index] of open.places) values.set(heading, cells.number(index, heading));
    const value = column.decode(values);
    if (value !== refused) {
      record[open.field] = value;
      return true;
    }
    for (const [heading, index] of open.places) {
      if (column.decode(new Map([[heading, values.get(heading)!]])) === refused) {
        this.#refuse('cell', row, heading, quoteFound(cells.text(index)), column.expected);
      }
    }
    return false;
  }

  /** Takes records all of whose cells are sound; the first stands in row `row` of the file. */
  takeAll(records: readonly R[], row: number): void {
    if (this.#checkRow !== null || this.#keep !== null) {
      for (let i = 0; i < records.length; i++) this.take(records[i]!, row + i);
      return;
    }
    for (let i = 0; i < records.length; i++) {
      this.#records.push(records[i]!);
      this.#rows.push(row + i);
    }
  }

  /** Takes a record all of whose cells are sound. */
  take(record: R, row: number): void {
    for (const problem of this.#checkRow?.(record) ?? []) {
      const heading = headingOf(this.#table, problem.field);
      this.#refuse(problem.code, row, heading, problem.found, problem.expected);
    }
    if (this.#keep === null) {
      this.#records.push(record);
      this.#rows.push(row);
    } else this.#keep(record, row);
  }

  #refuseHeading(problem: HeadingProblem): void {
    this.#issues.add({ ...problem, file: this.#file, row: 1 });
  }

  #refuseCell(column: Column<R[keyof R & string]>, row: number, found: string): void {
    const code = found === '' ? 'empty' : column.kind;
    this.#refuse(code, row, column.heading, quoteFound(found), column.expected);
  }

  #refuse(code: string, row: number, column: string | null, found: string, expected: string): void {
    this.#issues.add({ code, file: this.#file, row, column, found, expected });
  }
}

function isBlank(cells: RowCells): boolean {
  for (let i = 0; i < cells.count; i++) if (!cells.isEmpty(i)) return false;
  return true;
}
