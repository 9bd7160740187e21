import { readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { deflateRawSync } from 'node:zlib';
import fc from 'fast-check';
import { describe, expect, it, onTestFinished, vi } from 'vitest';
import writeXlsxFile from 'write-excel-file/node';
import { describeIssue } from '../../../src/errors.js';
import { IssueList } from '../../../src/records/issue-list.js';
import { checkStudy, readStudy } from '../../../src/records/read-study.js';
import { type SizeLimits, sizeLimits } from '../../../src/records/size-limits.js';
import { type RecordOf, studyTables, type TableName, tableNames } from '../../../src/records/study-tables.js';
import { encodeTable } from '../../../src/records/table-form/encode-table.js';
import { encodeStudyWithWorkbook, writeStudy } from '../../../src/records/write-study.js';
import { decodeSheet } from '../../../src/records/xlsx/decode-sheet.js';
import { encodeWorkbook } from '../../../src/records/xlsx/encode-workbook.js';
import { decodeWorkbook } from '../../../src/records/xlsx/read-workbook.js';
import { zipEntries } from '../../../src/records/xlsx/zip-entries.js';
import { temporaryFolder } from '../../support/temporary-folder.js';
import { arbitraryRecords } from '../arbitrary-study.js';
import { StudyFiles } from '../broken-study.js';
import { smallStudy } from '../small-study.js';

async function decoded<N extends TableName>(name: N, bytes: Uint8Array, limits: SizeLimits = sizeLimits) {
  const issues = new IssueList();
  const workbook = await decodeWorkbook(bytes, issues, limits);
  const sheet = workbook?.sheets.find((each) => each.name === name);
  const records =
    sheet === undefined
      ? []
      : decodeSheet(studyTables[name], sheet, `sheet ${name}`, 'point', issues, limits).records;
  return { problems: issues.all().map(describeIssue), records };
}

function encode<N extends TableName>(name: N, records: readonly RecordOf<N>[]): Promise<Uint8Array> {
  return encodeWorkbook([encodeTable(studyTables[name], records)]);
}

async function holdRoundTrip<N extends TableName>(name: N): Promise<void> {
  const arbitrary: fc.Arbitrary<readonly RecordOf<N>[]> = arbitraryRecords[name];
  await fc.assert(
    fc.asyncProperty(arbitrary, async (records) => {
      if (records.length === 0) return;
      expect(await decoded(name, await encode(name, records))).toEqual({ problems: [], records });
    }),
    { numRuns: 12 },
  );
}

/** Problems of the small study whose tables are in a workbook. */
async function problemsWith(files: Readonly<Record<string, string | Uint8Array>>): Promise<string[]> {
  const study = new StudyFiles();
  for (const file of Object.keys(study.files)) if (file.endsWith('.csv')) delete study.files[file];
  Object.assign(study.files, files);
  return study.problems();
}

describe('a workbook', () => {
  it.each(tableNames)('gives random records of %s back', holdRoundTrip, 60_000);

  it('holds a whole study, one sheet a table, and gives it back', async () => {
    const folder = join(temporaryFolder(), 'study');
    await writeStudy(folder, smallStudy, { form: 'xlsx' });
    expect(readdirSync(folder).sort()).toEqual(['equipment.json', 'study.json', 'tables.xlsx']);
    expect(await readStudy(folder)).toEqual(smallStudy);
  });

  it('has the same bytes for the same records, whatever the clock says', async () => {
    vi.useFakeTimers({ toFake: ['Date'] });
    onTestFinished(() => {
      vi.useRealTimers();
    });
    const encodeAt = (moment: string) => {
      vi.setSystemTime(new Date(moment));
      return encodeStudyWithWorkbook(smallStudy);
    };
    expect(await encodeAt('2031-07-08T09:10:11Z')).toEqual(await encodeAt('2025-01-02T03:04:05Z'));
  });

  it('names a fault by sheet, row and column', async () => {
    const { digestions } = smallStudy;
    const table = encodeTable(studyTables.digestions, digestions);
    const column = table.headings.indexOf('flux g');
    const rows = table.rows.map((row, i) => row.map((cell, at) => (i === 1 && at === column ? 'two' : cell)));
    const { problems } = await decoded('digestions', await encodeWorkbook([{ ...table, rows }]));
    expect(problems).toEqual([
      'sheet digestions, row 3, column "flux g": found "two"; expected a number above 0',
    ]);
  });

  it('reads days and moments that a spreadsheet keeps as such', async () => {
    const [reading] = smallStudy.readings;
    const { headings, rows } = encodeTable(studyTables.readings, [reading!]);
    const time = new Date(Date.UTC(2025, 0, 9, 9, 5, 7));
    const cells = rows[0]!.map((value, i) => {
      if (headings[i] === 'time') return { value: time, type: Date, format: 'yyyy-mm-dd hh:mm:ss' };
      if (value === '') return null;
      return typeof value === 'number' ? { value, type: Number } : { value, type: String };
    });
    const bytes = await writeXlsxFile([
      { sheet: 'readings', data: [headings.map((value) => ({ value, type: String })), cells] },
    ]).toBuffer();
    expect(await decoded('readings', new Uint8Array(bytes))).toEqual({
      problems: [],
      records: [{ ...reading!, time: '2025-01-09T09:05:07' }],
    });
  });

  it('holds no sheet of unknown name, and no table that is there as CSV as well', async () => {
    const { 'tables.xlsx': whole } = await encodeStudyWithWorkbook(smallStudy);
    const moisture = encodeTable(studyTables.moisture, smallStudy.moisture);
    const more = await encodeWorkbook([{ ...moisture, name: 'notes' }]);
    const csv = new StudyFiles().text('moisture.csv');
    expect(await problemsWith({ 'tables.xlsx': whole! as Uint8Array, 'moisture.csv': csv })).toEqual([
      'tables.xlsx: found a sheet "moisture" beside moisture.csv; expected each table once',
    ]);
    expect((await problemsWith({ 'tables.xlsx': more }))[0]).toMatch(
      /^tables\.xlsx: found a sheet "notes"; expected one of: digestions, dilutions, /,
    );
  });

  it('is refused where a second one lies beside it', async () => {
    const folder = new StudyFiles().write();
    writeFileSync(join(folder, 'old.xlsx'), '');
    expect((await checkStudy(folder)).issues.map(({ file }) => file)).toEqual(['old.xlsx']);
  });

  it('has no more rows, columns and bytes than the limits', async () => {
    const bytes = await encode('moisture', smallStudy.moisture);
    const problemsUnder = async (limits: Partial<SizeLimits>) =>
      (await decoded('moisture', bytes, { ...sizeLimits, ...limits })).problems;
    expect(await problemsUnder({})).toEqual([]);
    expect(await problemsUnder({ rows: 1 })).toEqual([
      'sheet moisture, row 2: found more rows; expected at most 1 rows',
    ]);
    expect(await problemsUnder({ columns: 3 })).toEqual([
      'sheet moisture, row 1: found 4 cells; expected at most 3 cells',
    ]);
    expect(await problemsUnder({ workbookUnpackedBytes: 1000 })).toEqual([
      'tables.xlsx: found more when unpacked; expected an XLSX workbook of at most 1000 bytes unpacked',
    ]);
  });
});

describe('an archive', () => {
  const refusal = async (bytes: Uint8Array) => {
    const issues = new IssueList();
    expect(await decodeWorkbook(bytes, issues)).toBeNull();
    return issues.all().map(({ found }) => found);
  };

  it('is refused where it is none, is cut off, or hides bytes', async () => {
    const bytes = await encode('moisture', smallStudy.moisture);
    expect(await refusal(new Uint8Array(0))).toEqual(['no ZIP archive']);
    expect(await refusal(new TextEncoder().encode('sample,loss\n'.repeat(20)))).toEqual(['no ZIP archive']);
    expect(await refusal(bytes.slice(0, bytes.length - 30))).toEqual(['no ZIP archive']);
    expect(await refusal(Buffer.concat([new Uint8Array(64), bytes]))).not.toEqual([]);
  });

  it('is refused where mark, method, size or place of an entry is broken', async () => {
    const bytes = await encode('moisture', smallStudy.moisture);
    const { centralAt } = zipEntries(bytes)[0]!;
    for (const at of [centralAt, centralAt + 10, centralAt + 23, centralAt + 45]) {
      const broken = bytes.slice();
      broken[at] = 0xff;
      expect(await refusal(broken), `byte ${at - centralAt}`).toHaveLength(1);
    }
  });

  it('that unpacks without end is refused before it is unpacked', async () => {
    const most = sizeLimits.workbookUnpackedBytes;
    const bomb = zipOf('xl/workbook.xml', deflateRawSync(new Uint8Array(most + 1)));
    expect(bomb.length).toBeLessThan(sizeLimits.workbookBytes);
    expect(await refusal(bomb)).toEqual(['more when unpacked']);
  });
});

/** An archive of one deflated entry that states a small size whatever it holds. */
function zipOf(name: string, packed: Uint8Array): Uint8Array {
  const title = Buffer.from(name);
  const local = Buffer.alloc(30);
  local.writeUInt32LE(0x04034b50, 0);
  local.writeUInt16LE(8, 8);
  local.writeUInt32LE(packed.length, 18);
  local.writeUInt32LE(10, 22);
  local.writeUInt16LE(title.length, 26);
  const central = Buffer.alloc(46);
  central.writeUInt32LE(0x02014b50, 0);
  central.writeUInt16LE(8, 10);
  central.writeUInt32LE(packed.length, 20);
  central.writeUInt32LE(10, 24);
  central.writeUInt16LE(title.length, 28);
  const end = Buffer.alloc(22);
  end.writeUInt32LE(0x06054b50, 0);
  end.writeUInt16LE(1, 8);
  end.writeUInt16LE(1, 10);
  end.writeUInt32LE(central.length + title.length, 12);
  end.writeUInt32LE(local.length + title.length + packed.length, 16);
  return Buffer.concat([local, title, packed, central, title, end]);
}
