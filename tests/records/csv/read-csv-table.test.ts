import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { describeIssue } from '../../../src/errors.js';
import { CsvScanner } from '../../../src/records/csv/csv-scanner.js';
import { decodeCsvTable, readCsvTable } from '../../../src/records/csv/read-csv-table.js';
import { IssueList } from '../../../src/records/issue-list.js';
import { sizeLimits } from '../../../src/records/size-limits.js';
import type { DecimalMark } from '../../../src/records/table-form/number-reader.js';
import { type MoistureRecord, moistureTable } from '../../../src/records/tables/moisture.js';
import { temporaryFolder } from '../../support/temporary-folder.js';

const heading = 'sample,loss g/100 g,basis,standard uncertainty g/100 g';
const record: MoistureRecord = {
  sample: 'S-1',
  lossGPer100G: 0.5,
  basis: 'as received to dry',
  standardUncertaintyGPer100G: 0.01,
};

function decode(content: string | Uint8Array, mark: DecimalMark | null = null) {
  const issues = new IssueList();
  const { records } = decodeCsvTable(moistureTable, content, 'moisture.csv', mark, issues);
  return { records, problems: issues.all().map(describeIssue) };
}

const dialects: readonly (readonly [what: string, text: string])[] = [
  ['commas and points', `${heading}\nS-1,0.5,as received to dry,0.01\n`],
  ['semicolons and commas', `${heading.replaceAll(',', ';')}\nS-1;0,5;as received to dry;0,01\n`],
  ['tabs and commas', `${heading.replaceAll(',', '\t')}\nS-1\t0,5\tas received to dry\t0,01\n`],
  ['semicolons and points', `${heading.replaceAll(',', ';')}\nS-1;0.5;as received to dry;0.01\n`],
  ['a byte order mark and CRLF', `\uFEFF${heading}\r\nS-1,0.5,as received to dry,0.01\r\n`],
  ['no line end', `${heading}\nS-1,0.5,as received to dry,0.01`],
  [
    'quotation marks throughout',
    `"sample","loss g/100 g","basis","standard uncertainty g/100 g"\n"S-1","0.5","as received to dry","0.01"\n`,
  ],
  ['quoted decimal commas', `${heading}\nS-1,"0,5",as received to dry,"0,01"\n`],
  ['blanks around cells', `${heading}\n S-1 , 0.5 ,as received to dry , 0.01\n`],
  ['empty rows', `${heading}\n\nS-1,0.5,as received to dry,0.01\n,,,\n`],
  [
    'another order of columns',
    'basis,standard uncertainty g/100 g,sample,loss g/100 g\nas received to dry,0.01,S-1,0.5\n',
  ],
  ['exponents', `${heading}\nS-1,5e-1,as received to dry,1E-2\n`],
];

const faults: readonly (readonly [what: string, text: string | Uint8Array, problem: string])[] = [
  ['an empty file', '', 'moisture.csv, row 1: found an empty file; expected a row of headings'],
  [
    'two kinds of separator',
    'sample;loss g/100 g,basis;standard uncertainty g/100 g\n',
    'moisture.csv, row 1: found several kinds of separator; expected one kind of separator in the heading: comma, semicolon or tab',
  ],
  [
    'a cell too many',
    `${heading}\nS-1,0,5,as received to dry,0.01\n`,
    'moisture.csv, row 2: found 5 cells; expected 4 cells, as in the heading',
  ],
  [
    'a quotation mark that is never closed',
    `${heading}\n"S-1,0.5,as received to dry,0.01\n`,
    'moisture.csv, row 2: found a quotation mark that is never closed; expected a closing one',
  ],
  [
    'a quotation mark in the middle of a cell',
    `${heading}\nS"1,0.5,as received to dry,0.01\n`,
    'moisture.csv, row 2: found a quotation mark in the middle of a cell; expected quotation marks around a whole cell, and each inner one doubled',
  ],
  [
    'text in another code than UTF-8',
    Buffer.from(`${heading}\nErz\u00E4hlung,0.5,as received to dry,0.01\n`, 'latin1'),
    'moisture.csv, row 2: found bytes that are no UTF-8 text; expected a file saved as UTF-8',
  ],
  [
    'a heading twice',
    `${heading},sample\nS-1,0.5,as received to dry,0.01,S-1\n`,
    'moisture.csv, row 1, column "sample": found "sample" a second time; expected each heading once',
  ],
  [
    'a thousands separator',
    `${heading.replaceAll(',', ';')}\nS-1;0,5;as received to dry;1.000,5\n`,
    'moisture.csv, row 2, column "standard uncertainty g/100 g": found "1.000,5"; expected a number of at least 0',
  ],
  [
    'a decimal point in one row and a comma in another',
    `${heading.replaceAll(',', ';')}\nS-1;0,5;as received to dry;0,01\nS-2;0.5;as received to dry;0,01\n`,
    'moisture.csv, row 3, column "loss g/100 g": found "0.5"; expected one decimal mark in the whole file (row 2 holds "0,5")',
  ],
  [
    'a mark that may be either',
    `${heading.replaceAll(',', ';')}\nS-1;1,234;as received to dry;0\n`,
    'moisture.csv, row 2, column "loss g/100 g": found "1,234"; expected a file whose numbers show which sign is the decimal mark, or "decimalMark": "point" or "comma" in study.json',
  ],
  [
    'a failed formula',
    `${heading}\n#REF!,0.5,as received to dry,0.01\n`,
    'moisture.csv, row 2, column "sample": found "#REF!"; expected a name without a vertical bar',
  ],
  [
    'words for no number',
    `${heading}\nS-1,NaN,as received to dry,Infinity\n`,
    'moisture.csv, row 2, column "standard uncertainty g/100 g": found "Infinity"; expected a number of at least 0',
  ],
];

describe('a CSV table', () => {
  it.each(dialects)('is read with %s', (_, text) => {
    expect(decode(text)).toEqual({ records: [record], problems: [] });
  });

  it.each(faults)('is refused with %s', (_, text, problem) => {
    expect(decode(text).problems).toContain(problem);
  });

  it('is read by the decimal mark that the plan states, and no other', () => {
    const text = `${heading.replaceAll(',', ';')}\nS-1;1,234;as received to dry;0\n`;
    expect(decode(text, 'comma').records[0]?.lossGPer100G).toBe(1.234);
    expect(decode(text, 'point').problems).toEqual([expect.stringContaining('row 2, column "loss g/100 g"')]);
  });

  it('bears the fingerprint of the bytes it was read from', async () => {
    const path = join(temporaryFolder(), 'moisture.csv');
    writeFileSync(path, 'abc');
    const read = await readCsvTable(moistureTable, path, 'moisture.csv', null, new IssueList());
    // FIPS 180-2, appendix B.1: SHA-256 of "abc" (remembered).
    expect(read.sha256).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad');
  });

  it('comes out the same however its bytes are cut into pieces', () => {
    const bytes = new TextEncoder().encode('\uFEFFa,b\r\n"x ""y"", 漢",1\n😀,"two\nlines"\r\nlast,');
    const rowsOf = (cuts: readonly number[]) => {
      const rows: string[][] = [];
      const scanner = new CsvScanner(
        {
          onRow: (row) => rows.push(Array.from({ length: row.count }, (_, i) => row.text(i))),
          onFault: ({ found }) => rows.push([found]),
        },
        sizeLimits,
      );
      const ends = [...cuts].sort((a, b) => a - b);
      [...ends, bytes.length].forEach((end, i) => {
        scanner.push(bytes.slice(ends[i - 1] ?? 0, end));
      });
      scanner.end();
      return rows;
    };
    const whole = [
      ['a', 'b'],
      ['x "y", 漢', '1'],
      ['😀', 'two\nlines'],
      ['last', ''],
    ];
    expect(rowsOf([])).toEqual(whole);
    fc.assert(
      fc.property(fc.array(fc.nat(bytes.length), { maxLength: 12 }), (cuts) => {
        expect(rowsOf(cuts)).toEqual(whole);
      }),
      { numRuns: 500 },
    );
  });
});
