import { createHash } from 'node:crypto';
import type { IssueList } from '../issue-list.js';
import { type SizeLimits, sizeLimits } from '../size-limits.js';
import { type DecimalMark, NumberReader } from '../table-form/number-reader.js';
import type { Table } from '../table-form/table.js';
import { type DecodedTable, TableDecoder } from '../table-form/table-decoder.js';
import { chunksOf } from './chunks-of.js';
import { RecordSink } from './record-sink.js';
import { scanTable } from './scan-table.js';

/** A table and the fingerprint of the very bytes it was decoded from. */
export interface ReadTable<R> {
  readonly table: DecodedTable<R>;
  readonly sha256: string;
}

/**
 * Decodes one CSV table while it is being read: neither the file nor its text is ever held whole.
 * @param path file to read
 * @param file name for issues and provenance
 * @param decimalMark as stated by the plan, `null` to find it out from the whole file
 */
export async function readCsvTable<R>(
  table: Table<R>,
  path: string,
  file: string,
  decimalMark: DecimalMark | null,
  issues: IssueList,
  limits: SizeLimits = sizeLimits,
): Promise<ReadTable<R>> {
  const hash = createHash('sha256');
  const decoder = csvDecoder(table, file, decimalMark, issues, limits);
  for await (const chunk of chunksOf(path)) {
    hash.update(chunk);
    decoder.push(chunk);
  }
  return { table: decoder.end(), sha256: hash.digest('hex') };
}

/** Decodes one CSV table that is at hand as bytes or text. */
export function decodeCsvTable<R>(
  table: Table<R>,
  content: Uint8Array | string,
  file: string,
  decimalMark: DecimalMark | null,
  issues: IssueList,
  limits: SizeLimits = sizeLimits,
): DecodedTable<R> {
  const decoder = csvDecoder(table, file, decimalMark, issues, limits);
  decoder.push(typeof content === 'string' ? new TextEncoder().encode(content) : content);
  return decoder.end();
}

interface CsvDecoder<R> {
  push(chunk: Uint8Array): void;
  end(): DecodedTable<R>;
}

function csvDecoder<R>(
  table: Table<R>,
  file: string,
  decimalMark: DecimalMark | null,
  issues: IssueList,
  limits: SizeLimits,
): CsvDecoder<R> {
  const numbers = new NumberReader(file, decimalMark);
  const decoder = new TableDecoder(table, file, numbers, issues);
  const scan = scanTable(decoder, numbers, new RecordSink(decoder), file, issues, limits);
  return {
    push: scan.push,
    end() {
      scan.end();
      return decoder.finish();
    },
  };
}
