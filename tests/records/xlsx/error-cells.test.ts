import { crc32, deflateRawSync, inflateRawSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { describeIssue } from '../../../src/errors.js';
import { IssueList } from '../../../src/records/issue-list.js';
import { studyTables } from '../../../src/records/study-tables.js';
import { encodeTable } from '../../../src/records/table-form/encode-table.js';
import { decodeSheet } from '../../../src/records/xlsx/decode-sheet.js';
import { encodeWorkbook } from '../../../src/records/xlsx/encode-workbook.js';
import { withErrorsAsText } from '../../../src/records/xlsx/error-cells.js';
import { decodeWorkbook } from '../../../src/records/xlsx/read-workbook.js';
import { zipEntries } from '../../../src/records/xlsx/zip-entries.js';
import { smallStudy } from '../small-study.js';

/** Digestions of the small study; the heading is row 1. */
const encoded = () => encodeWorkbook([encodeTable(studyTables.digestions, smallStudy.digestions)]);

/** The workbook with one cell of its sheet replaced; an empty cell has none, so it is put at the end of its row. */
async function withCell(reference: string, cell: string): Promise<Uint8Array> {
  const bytes = await encoded();
  const files = zipEntries(bytes).map(({ name, dataAt, dataEnd, isDeflated }) => {
    const packed = bytes.subarray(dataAt, dataEnd);
    const text = (isDeflated ? inflateRawSync(packed) : Buffer.from(packed)).toString('utf8');
    const isSheet = Buffer.from(name).toString('utf8').startsWith('xl/worksheets/sheet');
    return {
      name: Buffer.from(name),
      content: Buffer.from(isSheet ? replaced(text, reference, cell) : text),
    };
  });
  return archiveOf(files);
}

function replaced(sheet: string, reference: string, cell: string): string {
  const there = new RegExp(`<c r="${reference}"(?:[^>]*/>|.*?</c>)`);
  expect(sheet).toMatch(there);
  return sheet.replace(there, cell);
}

async function problems(bytes: Uint8Array): Promise<string[]> {
  const issues = new IssueList();
  const workbook = await decodeWorkbook(bytes, issues);
  decodeSheet(studyTables.digestions, workbook!.sheets[0]!, 'sheet digestions', 'point', issues);
  return issues.all().map(describeIssue);
}

/** Name of the column of a heading in a spreadsheet; the tables here have fewer than 26. */
function letterOf(heading: string): string {
  const { headings } = encodeTable(studyTables.digestions, smallStudy.digestions);
  return String.fromCharCode(65 + headings.indexOf(heading));
}

describe('a cell of a workbook whose formula failed', () => {
  it('is a problem in a column of numbers, also where a number may be left out', async () => {
    expect(await problems(await encoded())).toEqual([]);
    const density = letterOf('density g/mL');
    const failed = `<c r="${density}3" s="1" t="e"><f>1/0</f><v>#DIV/0!</v></c>`;
    expect(await problems(await withCell(`${density}3`, failed))).toEqual([
      'sheet digestions, row 3, column "density g/mL": found "#DIV/0!"; expected a number above 0, or nothing',
    ]);
    const missing = `<c t='e' r="${density}2"><v>#N/A</v></c>`;
    expect(await problems(await withCell(`${density}2`, missing))).toEqual([
      'sheet digestions, row 2, column "density g/mL": found "#N/A"; expected a number above 0, or nothing',
    ]);
  });

  it('leaves a workbook without such a cell as it is, to the byte', async () => {
    const bytes = await encoded();
    expect(withErrorsAsText(bytes)).toBe(bytes);
    // Text that only looks like a tag is escaped in the sheet, and no cell.
    const remark = letterOf('remark');
    const text = `<c r="${remark}3" t="inlineStr"><is><t>&lt;c t="e"&gt;</t></is></c>`;
    const quoted = await withCell(`${letterOf('melt')}3`, text.replace(`${remark}3`, `${letterOf('melt')}3`));
    expect(withErrorsAsText(quoted)).toBe(quoted);
  });
});

/** An archive of deflated entries. */
function archiveOf(files: readonly { readonly name: Buffer; readonly content: Buffer }[]): Uint8Array {
  const parts: Buffer[] = [];
  const directory: Buffer[] = [];
  let at = 0;
  for (const { name, content } of files) {
    const packed = deflateRawSync(content);
    const local = Buffer.alloc(30);
    local.writeUInt32LE(0x04034b50, 0);
    local.writeUInt16LE(8, 8);
    local.writeUInt32LE(crc32(content), 14);
    local.writeUInt32LE(packed.length, 18);
    local.writeUInt32LE(content.length, 22);
    local.writeUInt16LE(name.length, 26);
    const central = Buffer.alloc(46);
    central.writeUInt32LE(0x02014b50, 0);
    local.copy(central, 6, 4, 28);
    central.writeUInt32LE(at, 42);
    parts.push(local, name, packed);
    directory.push(central, name);
    at += local.length + name.length + packed.length;
  }
  const listed = Buffer.concat(directory);
  const end = Buffer.alloc(22);
  end.writeUInt32LE(0x06054b50, 0);
  end.writeUInt16LE(files.length, 8);
  end.writeUInt16LE(files.length, 10);
  end.writeUInt32LE(listed.length, 12);
  end.writeUInt32LE(at, 16);
  return Buffer.concat([...parts, listed, end]);
}
