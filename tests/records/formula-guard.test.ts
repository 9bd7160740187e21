import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { encodeCsv } from '../../src/records/csv/encode-csv.js';
import { guardFormula, unguardFormula } from '../../src/records/formula-guard.js';
import { encodeTable } from '../../src/records/table-form/encode-table.js';
import { digestionTable } from '../../src/records/tables/digestions.js';
import { smallStudy } from './small-study.js';

const beginnings = ['=', '+', '-', '@', '\t', '\r', '\n', '＝', '＋', '－', '＠'];
const anyText = fc
  .array(fc.oneof(fc.constantFrom("'", ...beginnings), fc.string({ maxLength: 3, unit: 'binary' })), {
    maxLength: 8,
  })
  .map((parts) => parts.join(''));

describe('the guard against formulas', () => {
  it('gives every text back as it was', () => {
    fc.assert(
      fc.property(anyText, (text) => {
        expect(unguardFormula(guardFormula(text))).toBe(text);
      }),
      { numRuns: 2000 },
    );
  });

  it('lets no text begin as a formula', () => {
    fc.assert(
      fc.property(anyText, (text) => {
        expect(beginnings.some((each) => guardFormula(text).startsWith(each))).toBe(false);
      }),
      { numRuns: 2000 },
    );
  });

  it.each(['=HYPERLINK("http://example.invalid","x")', '+1+1', '-2+3', '@SUM(A1)', "'=1"])(
    'stands before %s in a table, numbers stay numbers',
    (remark) => {
      const [first] = smallStudy.digestions;
      const { headings, rows } = encodeTable(digestionTable, [{ ...first!, remark }]);
      expect(rows[0]![headings.indexOf('remark')]).toBe(`'${remark}`);
      expect(rows[0]![headings.indexOf('flux g')]).toBe(2.0003);
    },
  );

  it('stands before headings that people choose', () => {
    expect(encodeCsv({ name: 't', headings: [guardFormula('=a')], rows: [] })).toBe("'=a\n");
  });
});
