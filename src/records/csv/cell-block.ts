const [quote, lineFeed, carriageReturn, blank] = [0x22, 0x0a, 0x0d, 0x20];
const rowsOfABlock = 1024;
// The first rows of a file show its decimal mark; until then every row with a number is looked at by itself.
const rowsOfTheFirstBlock = 8;

/**
 * Many plain rows of CSV as places in one block of bytes. A row is plain when it has as many cells as the heading, holds
 * something, ends within the bytes, and doubles no quotation mark inside a cell; all others are left to `CsvScanner`.
 */
export class CellBlock {
  /** Cells of a row. */
  readonly width: number;
  /** Most rows of a block. */
  readonly capacity = rowsOfABlock;
  /** First byte of cell c of row r at r · width + c; cells come without blanks at their ends. */
  readonly starts: Int32Array;
  /** Byte after the last one of each cell. */
  readonly ends: Int32Array;
  bytes: Uint8Array = new Uint8Array(0);
  /** Rows held. */
  count = 0;
  /** Where the first row after them begins. */
  next = 0;
  #most = rowsOfTheFirstBlock;

  constructor(width: number) {
    this.width = width;
    this.starts = new Int32Array(width * rowsOfABlock);
    this.ends = new Int32Array(width * rowsOfABlock);
  }

  /**
   * Takes rows from `start` on, up to the first that is not plain.
   * @param limit byte after the last line feed
   * @param most rows to take
   * @returns rows taken
   */
  fill(bytes: Uint8Array, start: number, limit: number, delimiter: number, most: number): number {
    const { width } = this;
    this.bytes = bytes;
    this.count = 0;
    this.next = start;
    const wanted = Math.min(most, this.#most);
    this.#most = Math.min(2 * this.#most, this.capacity);
    while (this.count < wanted && this.next < limit) {
      const end = this.#takeRow(bytes, this.next, limit, delimiter, this.count * width);
      if (end < 0) break;
      this.next = end;
      this.count++;
    }
    return this.count;
  }

  /** Notes the cells of one row from place `first` on; returns where the next row starts, −1 where it is not plain. */
  #takeRow(bytes: Uint8Array, start: number, limit: number, delimiter: number, first: number): number {
    const { starts, ends } = this;
    const last = first + this.width;
    let at = start;
    let cell = first;
    let content = 0;
    for (;;) {
      let from = at;
      let to = at;
      let byte = bytes[at]!;
      if (byte === quote) {
        from = at + 1;
        to = bytes.indexOf(quote, from);
        if (to < 0 || to >= limit) return -1;
        at = to + 1;
        if (bytes[at] === carriageReturn) at++;
        byte = bytes[at]!;
        if (byte !== lineFeed && (byte !== delimiter || at !== to + 1)) return -1;
      } else {
        while (byte !== delimiter && byte !== lineFeed && byte !== quote) byte = bytes[++at]!;
        if (byte === quote) return -1;
        to = byte === lineFeed && at > from && bytes[at - 1] === carriageReturn ? at - 1 : at;
      }
      while (from < to && isBlank(bytes[from]!)) from++;
      while (to > from && isBlank(bytes[to - 1]!)) to--;
      if (cell === last) return -1;
      starts[cell] = from;
      ends[cell++] = to;
      content |= to - from;
      at++;
      if (byte === lineFeed) return cell === last && content > 0 ? at : -1;
    }
  }
}

/** Space or tab. */
function isBlank(byte: number): boolean {
  return byte <= blank && (byte === blank || byte === 0x09);
}
