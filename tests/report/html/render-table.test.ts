import { describe, expect, it } from 'vitest';
import { number, text } from '../../../src/report/cells.js';
import type { Table } from '../../../src/report/document.js';
import { renderTableHtml } from '../../../src/report/html/render-table.js';
import { htmlElements } from '../../support/html-elements.js';
import { sampleTable } from '../../support/sample-report.js';

/** What a reader sees or copies. */
const visible = (html: string) => html.replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ');

describe('a rendered table', () => {
  it('shows numbers with their digits, grouped thousands, a true minus and powers of ten', () => {
    const html = renderTableHtml(sampleTable).replace(/<span class="rest"[^>]*>(.*?)<\/span>/g, '$1');
    expect(html).toContain('>12.35<');
    expect(html).toContain('>123\u202f456.8<');
    expect(html).toContain('>\u22120.50<');
    expect(html).toContain('>1.2\u2009×\u200910<sup>9</sup><');
    expect(html).toContain('>0.00042<');
    expect(html).toContain('>∞<');
  });

  it('sets the numbers of a column on the decimal point', () => {
    const rows = [[number(1.25, 3)], [number(100, 3)], [number(-0.125, 3)]];
    const html = renderTableHtml({ ...sampleTable, columns: [{ heading: 'x', unit: '' }], rows });
    expect([...html.matchAll(/min-width:([\d.]+)ch/g)].map((match) => match[1])).toEqual([
      '4.0',
      '4.0',
      '4.0',
    ]);
  });

  it('marks a table of many columns, which is set smaller on paper so that no page is shrunk', () => {
    const withColumns = (n: number) => {
      const columns = Array.from({ length: n }, (_, index) => ({ heading: `c${index}`, unit: '' }));
      return renderTableHtml({ ...sampleTable, columns, rows: [columns.map(() => number(1, 1))] });
    };
    expect(withColumns(10)).toContain('class="table wide"');
    expect(withColumns(9)).toContain('class="table"');
  });

  it('gives the reason where there is no value', () => {
    expect(visible(renderTableHtml(sampleTable))).toContain('not measured');
  });

  it('gathers equal neighbours of the grouping column under one heading', () => {
    const table: Table = {
      ...sampleTable,
      columns: [
        { heading: 'Analyte', unit: '' },
        { heading: 'Level', unit: '' },
      ],
      rows: [
        [text('Al'), text('low')],
        [text('Al'), text('high')],
        [text('Ca'), text('low')],
      ],
      groupedBy: 0,
    };
    const html = renderTableHtml(table);
    const groups = htmlElements(html).filter(({ attributes }) => attributes.scope === 'rowgroup');
    expect(groups).toHaveLength(2);
    expect(visible(html)).toMatch(/Level Al low high Ca low/);
    expect(visible(html)).not.toContain('Analyte');
  });

  it('refuses a number that is none', () => {
    expect(() => renderTableHtml({ ...sampleTable, rows: [[number(Number.NaN, 2)]] })).toThrow('found NaN');
    expect(() => renderTableHtml({ ...sampleTable, rows: [[number(1, 0)]] })).toThrow('found 0');
  });
});
