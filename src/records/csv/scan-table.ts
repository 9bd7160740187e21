import type { IssueList } from '../issue-list.js';
import type { SizeLimits } from '../size-limits.js';
import type { NumberReader } from '../table-form/number-reader.js';
import type { TableDecoder } from '../table-form/table-decoder.js';
import { BlockDecoder, type BlockSink } from './block-decoder.js';
import { CsvCells, type CsvRow } from './csv-row.js';
import { type CsvFault, CsvScanner } from './csv-scanner.js';

/** Takes the bytes of a file in pieces. */
export interface TableScan {
  push(chunk: Uint8Array): void;
  end(): void;
}

/**
 * Leads the bytes of a CSV file to the decoder of its table: the heading and rows that need a look one by one, plain
 * rows many at a time.
 *
 * @param sink takes plain rows
 */
export function scanTable<R>(
  decoder: TableDecoder<R>,
  numbers: NumberReader,
  sink: BlockSink<R>,
  file: string,
  issues: IssueList,
  limits: SizeLimits,
): TableScan {
  const cells = new CsvCells(numbers);
  let canReadRows = false;
  let blocks: BlockDecoder<R> | null = null;
  const onRow = (row: CsvRow, number: number) => {
    if (number > 1) {
      if (canReadRows) decoder.row(cells.turnTo(row, number), number);
      return;
    }
    if (scanner.delimiter === 0x2c) numbers.settlePoint();
    canReadRows = decoder.heading(Array.from({ length: row.count }, (_, i) => row.text(i)));
    if (canReadRows && !decoder.hasOpenColumns) blocks = new BlockDecoder(decoder, numbers, row.count, sink);
  };
  const onFault = ({ row, found, expected }: CsvFault) => {
    issues.add({ code: 'file form', file, row, column: null, found, expected });
    decoder.markBroken();
  };
  const block = () => blocks?.block ?? null;
  const onBlock = (_: unknown, number: number) => blocks?.decode(number);
  const scanner = new CsvScanner({ onRow, onFault, block, onBlock }, limits);
  let isEmpty = true;
  return {
    push(chunk) {
      if (chunk.length > 0) isEmpty = false;
      scanner.push(chunk);
    },
    end() {
      scanner.end();
      if (isEmpty) onFault({ row: 1, found: 'an empty file', expected: 'a row of headings' });
    },
  };
}
