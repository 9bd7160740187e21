import { describe, expect, it } from 'vitest';
import { empty, number, text, verdictCell } from '../../src/report/cells.js';
import type { Cell, Table } from '../../src/report/document.js';
import { tableToCsv } from '../../src/report/table-to-csv.js';

function table(...rows: Cell[][]): Table {
  const columns = (rows[0] ?? []).map((_, index) => ({ heading: `c${index + 1}`, unit: '' }));
  return { kind: 'table', id: 't', caption: 'C', columns, rows, notes: ['n'] };
}

describe('a table as CSV', () => {
  it('keeps numbers at full precision and negative numbers unguarded', () => {
    expect(tableToCsv(table([number(0.1 + 0.2, 2), number(-1e-9, 1)]))).toBe(
      'c1,c2\n0.30000000000000004,-1e-9\n',
    );
  });

  it('quotes commas, quotes and line breaks', () => {
    expect(tableToCsv(table([text('a,b'), text('say "x"'), text('two\nlines')]))).toBe(
      'c1,c2,c3\n"a,b","say ""x""","two\nlines"\n',
    );
  });

  it.each(['=1+1', '+1', '-1', '@SUM(A1)', '\t=1', '\r=1'])(
    'keeps %j from being read as a formula',
    (hostile) => {
      const line = tableToCsv(table([text(hostile)]))
        .split('\n')
        .slice(1)
        .join('\n');
      expect(line.replace(/^"/, '').startsWith("'")).toBe(true);
    },
  );

  it('guards headings too, and writes verdicts as words and missing values as nothing', () => {
    const cells: Table = {
      ...table([verdictCell('not shown'), empty('not studied')]),
      columns: [
        { heading: '=cmd', unit: '' },
        { heading: 'flux', unit: 'g' },
      ],
    };
    expect(tableToCsv(cells)).toBe("'=cmd,flux g\nnot shown,\n");
  });
});
