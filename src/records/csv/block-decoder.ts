import type { NumberReader } from '../table-form/number-reader.js';
import type { BoundColumn, TableDecoder } from '../table-form/table-decoder.js';
import { type BlockColumn, CodedBlock, MomentBlock, NumberBlock } from './block-columns.js';
import { CellBlock } from './cell-block.js';
import { CsvCells, CsvRow } from './csv-row.js';

/** One column of a table with the block it is decoded into. */
export interface DecodedColumn<R> {
  readonly bound: BoundColumn<R>;
  readonly block: BlockColumn<R[keyof R & string]>;
}

/** Takes the sound rows of a block, in the order of the file. */
export interface BlockSink<R> {
  /** Called once, ahead of all rows. */
  open?(columns: readonly DecodedColumn<R>[]): void;
  /** Rows `from` to before `to` of the block; the first of them is row `number` of the file. */
  take(columns: readonly DecodedColumn<R>[], from: number, to: number, number: number): void;
}

/**
 * Decodes plain rows of CSV column by column. A row with a cell that is not at once sound goes to the decoder of single
 * rows, which knows how to word what is wrong with it: so both ways read the same and find the same.
 */
export class BlockDecoder<R> {
  readonly block: CellBlock;
  readonly columns: readonly DecodedColumn<R>[];
  readonly #rows: TableDecoder<R>;
  readonly #sink: BlockSink<R>;
  readonly #doubtful: Uint8Array;
  readonly #row: CsvRow;
  readonly #cells: CsvCells;

  /** @param width cells of the heading */
  constructor(rows: TableDecoder<R>, numbers: NumberReader, width: number, sink: BlockSink<R>) {
    this.block = new CellBlock(width);
    const { capacity } = this.block;
    this.#rows = rows;
    this.#sink = sink;
    this.#doubtful = new Uint8Array(capacity);
    this.#row = new CsvRow(width);
    this.#cells = new CsvCells(numbers);
    this.columns = rows.columns.map((bound) => ({ bound, block: blockOf(bound, capacity, numbers) }));
    sink.open?.(this.columns);
  }

  /** Decodes what `block` holds; its first row is row `number` of the file. */
  decode(number: number): void {
    const { block } = this;
    const doubtful = this.#doubtful;
    doubtful.fill(0);
    for (const { bound, block: cells } of this.columns) {
      if (bound.index >= 0) cells.read(block, bound.index, doubtful);
    }
    for (let from = 0; from < block.count; ) {
      const found = doubtful.indexOf(1, from);
      const row = found < 0 ? block.count : found;
      if (row > from) this.#sink.take(this.columns, from, row, number + from);
      if (row < block.count) this.#rows.row(this.#turnTo(row, number), number + row);
      from = row + 1;
    }
  }

  #turnTo(row: number, number: number): CsvCells {
    const { bytes, starts, ends, width } = this.block;
    this.#row.begin(bytes);
    for (let cell = row * width; cell < (row + 1) * width; cell++) {
      this.#row.add(starts[cell]!, ends[cell]!, false);
    }
    return this.#cells.turnTo(this.#row, number + row);
  }
}

function blockOf<R>(
  bound: BoundColumn<R>,
  capacity: number,
  numbers: NumberReader,
): BlockColumn<R[keyof R & string]> {
  const block = newBlock(bound, capacity, numbers);
  if (bound.index < 0) block.fillEmpty();
  return block;
}

function newBlock<R>(
  { column, isNumeric }: BoundColumn<R>,
  capacity: number,
  numbers: NumberReader,
): BlockColumn<R[keyof R & string]> {
  if (isNumeric) return new NumberBlock(column, capacity, numbers);
  if (column.kind !== 'date and time') return new CodedBlock(column, capacity);
  // A column of this kind holds texts.
  return new MomentBlock(capacity) as unknown as BlockColumn<R[keyof R & string]>;
}
