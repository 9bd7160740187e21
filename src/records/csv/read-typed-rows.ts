import { createHash } from 'node:crypto';
import { stat } from 'node:fs/promises';
import { InputError } from '../../errors.js';
import type { IssueList } from '../issue-list.js';
import { type SizeLimits, sizeLimits } from '../size-limits.js';
import { type DecimalMark, NumberReader } from '../table-form/number-reader.js';
import type { Table } from '../table-form/table.js';
import { TableDecoder } from '../table-form/table-decoder.js';
import { chunksOf } from './chunks-of.js';
import { ColumnStore } from './column-store.js';
import { scanTable } from './scan-table.js';
import type { TypedRows } from './typed-rows.js';

/** How a CSV table is read: the same for all rows or part by part. */
export interface TypedReading<R> {
  readonly table: Table<R>;
  readonly path: string;
  /** Name for issues and provenance. */
  readonly file: string;
  /** As stated by the plan, `null` to find it out from the whole file. */
  readonly decimalMark: DecimalMark | null;
  readonly issues: IssueList;
  readonly limits?: SizeLimits;
}

/** Sound rows of a whole file and its fingerprint. */
export interface ReadTypedRows<R> {
  readonly rows: TypedRows<R>;
  /** False where headings or the form of the file are wrong. */
  readonly isWhole: boolean;
  readonly sha256: string;
}

/** Few bytes of a row: a file has at most so many rows, and pages of memory that are never written cost nothing. */
const leastRowBytes = 40;

/**
 * Reads one CSV table into typed columns: codes of texts, doubles, moments. Problems go to `issues`, worded as by
 * `readCsvTable`; a row with a problem is left out.
 *
 * @throws InputError a table whose rows are judged as a whole, or that leaves columns open
 */
export async function readTypedRows<R>(reading: TypedReading<R>): Promise<ReadTypedRows<R>> {
  const { size } = await stat(reading.path);
  const open = openReading(reading, Math.ceil(size / leastRowBytes));
  const hash = createHash('sha256');
  for await (const chunk of chunksOf(reading.path)) {
    hash.update(chunk);
    open.push(chunk);
  }
  const isWhole = open.end();
  return { rows: open.store.view(0, open.store.count), isWhole, sha256: hash.digest('hex') };
}

/** A table that is being read: rows come into the store as bytes go in. */
export interface OpenReading<R> {
  readonly store: ColumnStore<R>;
  push(chunk: Uint8Array): void;
  /** False where headings or the form of the file are wrong. */
  end(): boolean;
}

/** @throws InputError a table whose rows are judged as a whole, or that leaves columns open */
export function openReading<R>(reading: TypedReading<R>, capacity: number): OpenReading<R> {
  const { table, file, issues } = reading;
  if (table.checkRow !== undefined || Object.values<{ kind: string }>(table.columns).some(isOpen)) {
    throw new InputError(`${table.name}: expected a table without open columns and checks of whole rows`);
  }
  const numbers = new NumberReader(file, reading.decimalMark);
  const store = new ColumnStore<R>(capacity);
  const decoder = new TableDecoder(table, file, numbers, issues, (record, row) =>
    store.takeRecord(record, row),
  );
  const scan = scanTable(decoder, numbers, store, file, issues, reading.limits ?? sizeLimits);
  return {
    store,
    push: scan.push,
    end() {
      scan.end();
      return decoder.finish().isWhole;
    },
  };
}

function isOpen({ kind }: { readonly kind: string }): boolean {
  return kind === 'open';
}
