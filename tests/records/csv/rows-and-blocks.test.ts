import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { CsvCells } from '../../../src/records/csv/csv-row.js';
import { CsvScanner } from '../../../src/records/csv/csv-scanner.js';
import { readRowGroups } from '../../../src/records/csv/read-row-groups.js';
import { openReading, readTypedRows } from '../../../src/records/csv/read-typed-rows.js';
import { RecordSink } from '../../../src/records/csv/record-sink.js';
import { scanTable } from '../../../src/records/csv/scan-table.js';
import { IssueList } from '../../../src/records/issue-list.js';
import { type SizeLimits, sizeLimits } from '../../../src/records/size-limits.js';
import { type DecimalMark, NumberReader } from '../../../src/records/table-form/number-reader.js';
import type { Table } from '../../../src/records/table-form/table.js';
import { TableDecoder } from '../../../src/records/table-form/table-decoder.js';
import { digestionTable } from '../../../src/records/tables/digestions.js';
import { type ReadingRecord, readingTable } from '../../../src/records/tables/readings.js';
import { temporaryFolder } from '../../support/temporary-folder.js';

const file = 'readings.csv';
const headings = [
  ...['run', 'position', 'time', 'solution', 'analyte', 'line nm', 'repeat'],
  ...['intensity counts/s', 'internal standard intensity counts/s'],
];

/** One row after the other, no block: the slow and obvious twin. */
function oneByOne<R>(table: Table<R>, bytes: Uint8Array, mark: DecimalMark | null, limits: SizeLimits) {
  const issues = new IssueList();
  const numbers = new NumberReader(file, mark);
  const decoder = new TableDecoder(table, file, numbers, issues);
  const cells = new CsvCells(numbers);
  let canRead = false;
  const scanner = new CsvScanner(
    {
      onRow(row, number) {
        if (number > 1) {
          if (canRead) decoder.row(cells.turnTo(row, number), number);
          return;
        }
        if (scanner.delimiter === 0x2c) numbers.settlePoint();
        canRead = decoder.heading(Array.from({ length: row.count }, (_, i) => row.text(i)));
      },
      onFault({ row, found, expected }) {
        issues.add({ code: 'file form', file, row, column: null, found, expected });
        decoder.markBroken();
      },
    },
    limits,
  );
  scanner.push(bytes);
  scanner.end();
  return { ...decoder.finish(), issues: issues.all() };
}

function pieces(bytes: Uint8Array, cuts: readonly number[]): Uint8Array[] {
  const ends = [...cuts.map((cut) => cut % (bytes.length + 1)).sort((a, b) => a - b), bytes.length];
  return ends.map((end, i) => bytes.slice(ends[i - 1] ?? 0, end));
}

function inBlocks<R>(
  table: Table<R>,
  parts: readonly Uint8Array[],
  mark: DecimalMark | null,
  limits: SizeLimits,
) {
  const issues = new IssueList();
  const numbers = new NumberReader(file, mark);
  const decoder = new TableDecoder(table, file, numbers, issues);
  const scan = scanTable(decoder, numbers, new RecordSink(decoder), file, issues, limits);
  for (const part of parts) scan.push(part);
  scan.end();
  return { ...decoder.finish(), issues: issues.all() };
}

function inColumns(parts: readonly Uint8Array[], mark: DecimalMark | null, limits: SizeLimits) {
  const issues = new IssueList();
  const reading = openReading({ table: readingTable, path: '', file, decimalMark: mark, issues, limits }, 4);
  for (const part of parts) reading.push(part);
  const isWhole = reading.end();
  const rows = reading.store.view(0, reading.store.count);
  const records = Array.from({ length: rows.count }, (_, i) => rows.record(i));
  return { records, rows: [...rows.rows], isWhole, issues: issues.all() };
}

const digits = fc.string({ unit: fc.constantFrom(...'0123456789'), minLength: 1, maxLength: 12 });
const numberText = fc.oneof(
  { weight: 4, arbitrary: fc.tuple(digits, digits).map(([a, b]) => `${a}.${b}`) },
  { weight: 4, arbitrary: fc.nat().map(String) },
  { weight: 2, arbitrary: fc.double({ noNaN: true, min: 0, max: 1e21 }).map(String) },
  fc.constantFrom('-1', '0', '-0', '1e3', '+5', '1.', '.5', '1,5', '1.234', 'NaN', 'x', '', '1e999', "'=1"),
);
const timeText = fc.oneof(
  {
    weight: 6,
    arbitrary: fc
      .date({ min: new Date(0), max: new Date('2100-01-01'), noInvalidDate: true })
      .map((date) => date.toISOString())
      .chain((text) => fc.constantFrom(16, 19, 21, 22, 23).map((end) => text.slice(0, end))),
  },
  fc.constantFrom('2025-02-29T10:00', '2025-03-14 09:05:00', '2025-03-14T24:00', '2025-03-14T09:05:60'),
  fc.constantFrom(
    '2025-03-14T09:05:00.',
    '2025-03-14T09:05:00.1234',
    '2025-03-14',
    '2025-03-14T9:05:00x',
    '',
  ),
);
const nameText = fc.oneof(
  { weight: 5, arbitrary: fc.constantFrom('R-1', 'R-2', 'Al', 'Zr', 'D-014') },
  fc.constantFrom('', 'a|b', '漢字', 'x "y"', 'two\nlines', 'a,b', "'=1+1", '=1', '#REF!', '\u00a0Al', 'Al '),
  fc.string({ unit: 'grapheme', maxLength: 70 }),
);
const row = fc.tuple(
  ...[nameText, numberText, timeText, nameText, nameText, numberText, numberText, numberText, numberText],
);

/** Mostly sound rows: a table with a fault in every row would show little. */
const soundRow = fc
  .tuple(fc.constantFrom('R-1', 'R-2'), fc.nat(90), fc.nat(59), digits, fc.nat(1e6))
  .map(([run, position, second, decimals, count]) => [
    ...[run, `${position + 1}`, `2025-03-14T09:05:${String(second).padStart(2, '0')}`, 'D-1', 'Al'],
    ...[`396.${decimals}`, '1', `${count}`, `4${decimals}.5`],
  ]);

/** As a spreadsheet leaves behind: passed over. */
const emptyRow = fc.constant(headings.map(() => ''));

function cellText(cell: string, quoted: boolean, delimiter: string): string {
  const must = cell.includes('"') || cell.includes('\n') || cell.includes('\r') || cell.includes(delimiter);
  return quoted || must ? `"${cell.replaceAll('"', '""')}"` : cell;
}

const table = fc
  .record({
    rows: fc.array(fc.oneof({ weight: 8, arbitrary: soundRow }, { weight: 2, arbitrary: row }, emptyRow), {
      maxLength: 30,
    }),
    delimiter: fc.constantFrom(',', ';', '\t'),
    mark: fc.constantFrom('.', ','),
    lineEnd: fc.constantFrom('\n', '\r\n'),
    bom: fc.constantFrom('', '\uFEFF'),
    quoted: fc.array(fc.boolean(), { minLength: 7, maxLength: 7 }),
    blanks: fc.constantFrom('', ' ', '\t '),
    lastEnd: fc.boolean(),
    damage: fc.option(fc.tuple(fc.nat(), fc.constantFrom('"', ',', '\n', '\r', ';', '\u00e4', '""', '')), {
      nil: null,
      freq: 3,
    }),
  })
  .map(({ rows, delimiter, mark, lineEnd, bom, quoted, blanks, lastEnd, damage }) => {
    const pad = delimiter === '\t' ? '' : blanks;
    const lines = [headings, ...rows].map((cells, r) =>
      cells
        .map((cell, c) => {
          const text = r > 0 && /^\d+\.\d+$/.test(cell) ? cell.replace('.', mark) : cell;
          return pad + cellText(text, quoted[(r + c) % 7]!, delimiter) + (c % 3 === 0 ? pad : '');
        })
        .join(delimiter),
    );
    const whole = bom + lines.join(lineEnd) + (lastEnd ? lineEnd : '');
    if (damage === null) return whole;
    const at = damage[0] % (whole.length + 1);
    return whole.slice(0, at) + damage[1] + whole.slice(at + (damage[1] === '' ? 1 : 0));
  });
const cuts = fc.array(fc.nat(), { maxLength: 12 });
const statedMark = fc.constantFrom(null, 'point' as const, 'comma' as const);

describe('rows of CSV read in blocks', () => {
  it('hold what they hold one by one, faults included, wherever the bytes are cut', () => {
    let [sound, faulty] = [0, 0];
    fc.assert(
      fc.property(table, cuts, statedMark, (text, where, mark) => {
        const bytes = new TextEncoder().encode(text);
        const expected = oneByOne(readingTable, bytes, mark, sizeLimits);
        sound += expected.records.length;
        faulty += expected.issues.length;
        const parts = pieces(bytes, where);
        expect(inBlocks(readingTable, parts, mark, sizeLimits)).toEqual(expected);
        const { records, rows, isWhole, issues } = expected;
        expect(inColumns(parts, mark, sizeLimits)).toEqual({ records, rows, isWhole, issues });
      }),
      { numRuns: 1500 },
    );
    expect(sound).toBeGreaterThan(1000);
    expect(faulty).toBeGreaterThan(1000);
  });

  it('hold what they hold one by one where the bytes are no text', () => {
    fc.assert(
      fc.property(
        table,
        fc.array(fc.tuple(fc.nat(), fc.nat(255)), { maxLength: 3 }),
        cuts,
        (text, bad, where) => {
          const bytes = new TextEncoder().encode(text);
          for (const [at, byte] of bad) if (bytes.length > 0) bytes[at % bytes.length] = byte;
          const expected = oneByOne(readingTable, bytes, null, sizeLimits);
          expect(inBlocks(readingTable, pieces(bytes, where), null, sizeLimits)).toEqual(expected);
        },
      ),
      { numRuns: 500 },
    );
  });

  it('keep to the limits on size', () => {
    const limits = { ...sizeLimits, rows: 40 };
    const line = 'R-1,1,2025-03-14T09:05:00,D-1,Al,396.152,1,1000,400000\n';
    const bytes = new TextEncoder().encode(`${headings.join(',')}\n${line.repeat(60)}`);
    const expected = oneByOne(readingTable, bytes, null, limits);
    expect(expected.issues.map(({ found }) => found)).toEqual(['more rows']);
    expect(inBlocks(readingTable, [bytes], null, limits)).toEqual(expected);
  });

  it('hold the double nearest to every number written', () => {
    const written = fc.oneof(
      fc.double({ noNaN: true, noDefaultInfinity: true, min: 0 }).map(String),
      fc.tuple(digits, digits).map(([a, b]) => `${a}.${b}`),
      fc.tuple(digits, fc.integer({ min: -330, max: 310 })).map(([a, e]) => `${a}e${e}`),
      digits,
    );
    fc.assert(
      fc.property(fc.array(written, { minLength: 1, maxLength: 50 }), (texts) => {
        const kept = texts.filter((text) => Number.isFinite(Number(text)));
        const lines = kept.map((text) => `R-1,1,2025-03-14T09:05:00,D-1,Al,396.152,1,${text},\n`);
        const bytes = new TextEncoder().encode(`${headings.join(',')}\n${lines.join('')}`);
        const { records, issues } = inColumns([bytes], null, sizeLimits);
        expect(issues).toEqual([]);
        expect(records.map(({ intensity }) => intensity)).toEqual(kept.map(Number));
      }),
      { numRuns: 400 },
    );
  });
});

describe('rows of a file', () => {
  const content = (lines: readonly string[]) => {
    const path = join(temporaryFolder(), file);
    writeFileSync(path, `${headings.join(',')}\n${lines.join('\n')}\n`);
    const issues = new IssueList();
    return { table: readingTable, path, file, decimalMark: null, issues };
  };
  const lineOf = (run: string, position: number) =>
    `${run},${position},2025-03-14T09:05:07.25,D-${position},Al,396.152,1,${position * 1000.5},`;

  it('are typed columns: codes of texts, doubles, moments', async () => {
    const { rows, isWhole } = await readTypedRows(content([lineOf('R-1', 1), lineOf('R-2', 2)]));
    expect(isWhole).toBe(true);
    expect([...rows.numbers('intensity')]).toEqual([1000.5, 2001]);
    expect([...rows.numbers('internalStandardIntensity')]).toEqual([Number.NaN, Number.NaN]);
    expect([...rows.numbers('time')]).toEqual([1741943107250, 1741943107250]);
    expect([...rows.codes('run')].map((code) => rows.values('run')[code])).toEqual(['R-1', 'R-2']);
    expect(rows.record(1)).toEqual({
      ...{ run: 'R-2', position: 2, time: '2025-03-14T09:05:07.25', solution: 'D-2', analyte: 'Al' },
      ...{ lineNm: 396.152, repeat: 1, intensity: 2001, internalStandardIntensity: null },
    } satisfies ReadingRecord);
    expect(() => rows.numbers('run')).toThrow(InputError);
    expect(() => rows.codes('time')).toThrow(InputError);
  });

  it('give equal names one code, however they are written', async () => {
    const runs = ['R-1', 'R-2', '\u00a0R-1', "'-3", 'R-2', '-3', 'R-4', '\u00a0R-4', 'R-1'];
    // Once more, so that all of them also come in blocks of many rows.
    const { rows } = await readTypedRows(content([...runs, ...runs].map((run, i) => lineOf(run, i + 1))));
    const expected = ['R-1', 'R-2', 'R-1', '-3', 'R-2', '-3', 'R-4', 'R-4', 'R-1'];
    const codes = [...rows.codes('run')];
    expect(codes.map((code) => rows.values('run')[code])).toEqual([...expected, ...expected]);
    expect(new Set(codes).size).toBe(4);
  });

  it('come run by run, each whole, though the file is read in pieces', async () => {
    const lines = Array.from({ length: 9000 }, (_, i) => lineOf(`R-${Math.floor(i / 700)}`, (i % 700) + 1));
    const parts: (readonly [string, number, number])[] = [];
    for await (const rows of readRowGroups(content(lines), 'run')) {
      const { run, position } = rows.record(rows.count - 1);
      parts.push([run, rows.rows[0]!, position]);
      expect(rows.count).toBe(position);
    }
    const expected = Array.from({ length: 13 }, (_, run) => [
      `R-${run}`,
      700 * run + 2,
      run < 12 ? 700 : 600,
    ]);
    expect(parts).toEqual(expected);
  });

  it('are refused as columns where rows are judged as a whole', async () => {
    const reading = { ...content([]), table: digestionTable };
    await expect(readTypedRows(reading)).rejects.toThrow('without open columns and checks of whole rows');
  });
});
