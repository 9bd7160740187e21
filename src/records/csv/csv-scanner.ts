import { isUtf8 } from 'node:buffer';
import type { SizeLimits } from '../size-limits.js';
import type { CellBlock } from './cell-block.js';
import { CsvRow } from './csv-row.js';
import { detectDelimiter } from './detect-delimiter.js';

/** What a reader of CSV is told: rows as they come, and at most one fault, after which nothing follows. */
export interface CsvListener {
  /** The row object and its bytes are used again for the next row: take what is needed at once. */
  onRow(row: CsvRow, number: number): void;
  onFault(fault: CsvFault): void;
  /** Where plain rows are to be put many at a time; none as long as rows are wanted one by one. */
  block?(): CellBlock | null;
  /** Called with the block filled; its first row is row `number`. */
  onBlock?(block: CellBlock, number: number): void;
}

/** A place where the file is no CSV. */
export interface CsvFault {
  readonly row: number;
  readonly found: string;
  readonly expected: string;
}

const [quote, lineFeed, carriageReturn, blank, tab] = [0x22, 0x0a, 0x0d, 0x20, 0x09];

/**
 * Reads CSV bytes that arrive in pieces and hands over one row after the other; no text is made of a cell before
 * someone asks for it. Comma, semicolon or tab (found in the first row); quotes by RFC 4180; LF or CRLF; UTF-8 with or
 * without byte order mark.
 *
 * @see RFC 4180, section 2
 */
export class CsvScanner {
  readonly #listener: CsvListener;
  readonly #limits: SizeLimits;
  readonly #row: CsvRow;
  /** Bytes not used yet stand at its start; kept for the whole file, as new memory for each piece is dear. */
  #buffer: Uint8Array = new Uint8Array(0);
  #left = 0;
  #delimiter = -1;
  #number = 0;
  #isStarted = false;
  #isOver = false;
  #hasBadText = false;
  #sawPairs = false;

  constructor(listener: CsvListener, limits: SizeLimits) {
    this.#listener = listener;
    this.#limits = limits;
    this.#row = new CsvRow(limits.columns);
  }

  /** Byte of the delimiter, −1 before the first row. */
  get delimiter(): number {
    return this.#delimiter;
  }

  push(chunk: Uint8Array): void {
    if (this.#isOver) return;
    const length = this.#left + chunk.length;
    if (length > this.#buffer.length) {
      const larger = new Uint8Array(length + (length >> 2));
      larger.set(this.#buffer.subarray(0, this.#left));
      this.#buffer = larger;
    }
    this.#buffer.set(chunk, this.#left);
    const used = this.#scan(Buffer.from(this.#buffer.buffer, 0, length), false);
    this.#buffer.copyWithin(0, used, length);
    this.#left = length - used;
    if (!this.#isOver && this.#left > this.#limits.csvRowBytes) {
      const expected = `a row of at most ${this.#limits.csvRowBytes} bytes (is a quotation mark left open?)`;
      this.#fault(this.#number + 1, 'a longer row', expected);
    }
  }

  /** Takes the last row, which needs no line end. */
  end(): void {
    if (!this.#isOver) this.#scan(Buffer.from(this.#buffer.buffer, 0, this.#left), true);
    this.#isOver = true;
  }

  /** Hands over all rows that are complete; returns the number of bytes used. */
  #scan(bytes: Uint8Array, isLast: boolean): number {
    let start = 0;
    if (!this.#isStarted) {
      if (bytes.length < 3 && !isLast) return 0;
      start = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf ? 3 : 0;
      this.#isStarted = true;
    }
    // One test of the whole block; only where it fails is each row tested, to name the first one.
    const limit = bytes.lastIndexOf(lineFeed) + 1;
    this.#hasBadText ||= !isUtf8(bytes.subarray(start, isLast ? bytes.length : limit));
    while (start < bytes.length && !this.#isOver) {
      if (this.#delimiter < 0 && !this.#chooseDelimiter(bytes, start, isLast)) return start;
      const afterBlock = this.#scanBlock(bytes, start, limit);
      if (afterBlock > start) {
        start = afterBlock;
        continue;
      }
      const next = this.#scanRow(bytes, start, isLast);
      if (next < 0) return start;
      start = next;
    }
    return start;
  }

  /** Hands over the plain rows from `start` on; returns where the first other row starts. */
  #scanBlock(bytes: Uint8Array, start: number, limit: number): number {
    const block = this.#hasBadText || this.#number === 0 ? null : (this.#listener.block?.() ?? null);
    const most = this.#limits.rows - this.#number;
    if (block === null || block.fill(bytes, start, limit, this.#delimiter, most) === 0) return start;
    this.#listener.onBlock?.(block, this.#number + 1);
    this.#number += block.count;
    return block.next;
  }

  #chooseDelimiter(bytes: Uint8Array, start: number, isLast: boolean): boolean {
    const answer = detectDelimiter(bytes, start, isLast);
    if (answer === 'more') return false;
    if (answer === 'several') {
      const expected = 'one kind of separator in the heading: comma, semicolon or tab';
      this.#fault(1, 'several kinds of separator', expected);
      return false;
    }
    this.#delimiter = typeof answer === 'number' ? answer : 0x2c;
    return true;
  }

  /** Scans one row from `start`; returns where the next one starts, −1 where the row is not complete. */
  #scanRow(bytes: Uint8Array, start: number, isLast: boolean): number {
    const [row, delimiter, length] = [this.#row, this.#delimiter, bytes.length];
    row.begin(bytes);
    let at = start;
    for (;;) {
      const isQuoted = at < length && bytes[at] === quote;
      let [from, to] = [at, at];
      let hasPairs = false;
      if (isQuoted) {
        from = at + 1;
        to = this.#closingQuote(bytes, from, isLast);
        if (to < 0) return this.#isOver ? length : -1;
        hasPairs = this.#sawPairs;
        at = to + 1;
        while (at < length && bytes[at] === blank) at++;
      }
      const contentEnd = at;
      while (at < length && bytes[at] !== delimiter && bytes[at] !== lineFeed && bytes[at] !== quote) at++;
      if (at === length && !isLast) return -1;
      if (bytes[at] === quote) return this.#strayQuote(length);
      let end = at;
      if ((at === length || bytes[at] === lineFeed) && end > contentEnd && bytes[end - 1] === carriageReturn)
        end--;
      if (isQuoted && end > contentEnd) {
        const expected = 'a separator or the end of the row';
        this.#fault(this.#number + 1, 'text after a closing quotation mark', expected);
        return length;
      }
      if (!isQuoted) to = end;
      while (from < to && (bytes[from] === blank || bytes[from] === tab)) from++;
      while (to > from && (bytes[to - 1] === blank || bytes[to - 1] === tab)) to--;
      row.add(from, to, hasPairs);
      if (at === length || bytes[at] === lineFeed) break;
      at++;
    }
    this.#number++;
    if (this.#hasBadText && !isUtf8(bytes.subarray(start, at))) {
      this.#fault(this.#number, 'bytes that are no UTF-8 text', 'a file saved as UTF-8');
    }
    if (!this.#isOver && this.#checkSize()) this.#listener.onRow(row, this.#number);
    return at === length ? length : at + 1;
  }

  #strayQuote(length: number): number {
    const expected = 'quotation marks around a whole cell, and each inner one doubled';
    this.#fault(this.#number + 1, 'a quotation mark in the middle of a cell', expected);
    return length;
  }

  /** Place of the quotation mark that closes a cell, −1 where it is not there (yet). */
  #closingQuote(bytes: Uint8Array, from: number, isLast: boolean): number {
    this.#sawPairs = false;
    for (let at = from; at < bytes.length; at++) {
      if (bytes[at] !== quote) continue;
      if (at + 1 === bytes.length && !isLast) return -1;
      if (bytes[at + 1] !== quote) return at;
      this.#sawPairs = true;
      at++;
    }
    if (isLast) this.#fault(this.#number + 1, 'a quotation mark that is never closed', 'a closing one');
    return -1;
  }

  #checkSize(): boolean {
    const { rows, columns } = this.#limits;
    if (this.#number > rows) this.#fault(this.#number, 'more rows', `at most ${rows} rows`);
    else if (this.#row.count > columns) {
      this.#fault(this.#number, `${this.#row.count} cells`, `at most ${columns} cells`);
    }
    return !this.#isOver;
  }

  #fault(row: number, found: string, expected: string): void {
    this.#isOver = true;
    this.#listener.onFault({ row, found, expected });
  }
}
