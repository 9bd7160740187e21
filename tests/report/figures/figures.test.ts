import { describe, expect, it } from 'vitest';
import type { Cell, Figure } from '../../../src/report/document.js';
import { tones } from '../../../src/report/figures/figure-style.js';
import { figureInPage } from '../../../src/report/html/render-figure.js';
import { tableToCsv } from '../../../src/report/table-to-csv.js';
import { htmlElements } from '../../support/html-elements.js';
import { sampleFigures } from '../../support/sample-figures.js';

const figures = sampleFigures();
const named = figures.map((figure) => [figure.id, figure] as const);

/** Every text and number of a value, with the key it stands under. */
function leaves(value: unknown, key = ''): { key: string; value: string | number }[] {
  if (typeof value === 'string' || typeof value === 'number') return [{ key, value }];
  if (Array.isArray(value)) return value.flatMap((item) => leaves(item, key));
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([name, item]) => leaves(item, name));
}

function drawn(figure: Figure): { key: string; value: string | number }[] {
  return leaves({ traces: figure.traces, layout: figure.layout });
}

function saturation(colour: string): number {
  const channels = [1, 3, 5].map((at) => Number.parseInt(colour.slice(at, at + 2), 16) / 255);
  return Math.max(...channels) - Math.min(...channels);
}

const numbersOf = (rows: readonly (readonly Cell[])[]): number[] =>
  rows.flatMap((row) => row.flatMap((cell) => (cell.kind === 'number' ? [cell.value] : [])));

describe.each(named)('figure %s', (_, figure) => {
  it('survives JSON whole', () => {
    expect(JSON.parse(JSON.stringify(figure))).toEqual(figure);
    for (const { value } of drawn(figure)) expect(value).not.toBeNaN();
  });

  it('holds in its table the values of its marks and bars', () => {
    const listed = numbersOf(figure.table.rows);
    const values = figure.traces
      .filter(({ mode, type }) => type === 'bar' || String(mode).includes('markers'))
      .flatMap((trace) =>
        leaves(
          trace.orientation === 'h' || ['f/overview', 'f/routes'].includes(figure.id) ? trace.x : trace.y,
        ),
      )
      .map(({ value }) => Number(value));
    expect(values.length).toBeGreaterThan(2);
    const missing = values.filter(
      (value) => !listed.some((cell) => Math.abs(cell - value) <= 1e-12 * Math.abs(value)),
    );
    // A mark beyond the edge of the overview stands at the edge.
    expect(missing.filter((value) => figure.id !== 'f/overview' || value !== 3)).toEqual([]);
    expect(tableToCsv(figure.table).split('\n').length).toBe(figure.table.rows.length + 2);
  });

  it('uses greys only, so that shape and pattern tell things apart', () => {
    const colours = drawn(figure).filter(({ value }) => /^#[0-9a-f]{6}$/i.test(String(value)));
    expect(colours.length).toBeGreaterThan(2);
    for (const { value } of colours) expect(saturation(String(value))).toBeLessThan(0.15);
    expect(Object.values(tones).every((tone) => saturation(tone) < 0.15)).toBe(true);
    const names = new Set(
      figure.traces.filter((trace) => trace.showlegend === true).map((trace) => trace.name),
    );
    const looks = new Set(
      figure.traces
        .filter((trace) => trace.showlegend === true)
        .map(({ marker, line }) => {
          const { symbol, pattern } = marker as { symbol?: string; pattern?: unknown };
          return JSON.stringify([symbol, pattern, (line as { dash?: string } | undefined)?.dash]);
        }),
    );
    expect(looks.size).toBe(names.size);
  });

  it('fits the width of a page and a part of its height', () => {
    const { width, height } = figure.layout as { width: number; height: number };
    expect(width).toBeLessThanOrEqual(680);
    expect(height).toBeLessThan(900);
  });

  it('is a fragment of sound HTML whose fallback is the table', () => {
    const names = htmlElements(figureInPage(figure)).map(({ name }) => name);
    expect(names).toContain('details');
    expect(names.filter((name) => name === 'tr')).toHaveLength(figure.table.rows.length + 1);
  });
});

describe('text from records in figures', () => {
  it('reaches the drawing library as plain text', () => {
    const hostile = '<a href="https://example.org">x</a>&\u202e';
    for (const figure of sampleFigures(hostile)) {
      const texts = drawn(figure).map(({ value }) => String(value));
      expect(texts.some((text) => text.includes('&lt;a href'))).toBe(true);
      expect(texts.filter((text) => /<a |\u202e|&(?!lt;|gt;|amp;)/.test(text))).toEqual([]);
    }
  });
});
