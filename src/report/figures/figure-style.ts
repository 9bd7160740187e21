import type { Verdict } from '../../validation/finding.js';
import type { Cell, Column, Figure } from '../document.js';

/** Colours of figures: one dark, two greys. Shape, pattern and label carry the meaning. */
export const tones = { ink: '#1b2430', middle: '#7b8794', light: '#c9d0d8', ground: '#ffffff' } as const;

/** Width in pixels that fits both the screen column and the text width of an A4 page. */
export const figureWidth = 680;

/** Marker of each verdict: the same shapes that stand in the tables. */
export const verdictSymbols: Readonly<Record<Verdict, string>> = {
  met: 'square',
  'not met': 'square-x-open',
  'not shown': 'square-open-dot',
  'no criterion': 'line-ew-open',
  'not studied': 'circle-open',
};

/** Markers for series that are told apart by shape. */
export const seriesSymbols = [
  'circle',
  'diamond-open',
  'triangle-up',
  'square-open',
  'cross',
  'star-open',
] as const;

/** Dashes for lines that are told apart by pattern. */
export const seriesDashes = ['solid', 'dash', 'dot', 'dashdot', 'longdash', 'longdashdot'] as const;

/**
 * Text from records as the drawing library shows it word for word: it would otherwise read `<b>` and links in labels.
 *
 * @example
 * plainLabel('a < b') // => "a &lt; b"
 */
export function plainLabel(text: string): string {
  return text
    .replace(/[\p{Cc}\p{Bidi_Control}]/gu, '\ufffd')
    .replace(/&/g, '&amp;')
    .replace(/</g, '&lt;')
    .replace(/>/g, '&gt;');
}

/** An axis with a title; `more` adds to or replaces its settings. */
export function axis(title: string, more: Readonly<Record<string, unknown>> = {}): Record<string, unknown> {
  return {
    title: { text: plainLabel(title), standoff: 10 },
    automargin: true,
    showline: true,
    linecolor: tones.ink,
    linewidth: 1,
    ticks: 'outside',
    ticklen: 4,
    tickcolor: tones.ink,
    gridcolor: '#e8ebef',
    zeroline: false,
    ...more,
  };
}

/** Range of an axis that holds all the values, with a margin; a lone value gets room around it. */
export function rangeOver(values: readonly number[]): [number, number] {
  const low = Math.min(...values);
  const high = Math.max(...values);
  const margin = 0.09 * (high - low) || 0.1 * Math.abs(high) || 1;
  return [low - margin, high + margin];
}

/** An axis of names, one place each. */
export function namedAxis(title: string, names: readonly string[]): Record<string, unknown> {
  const isLong = names.reduce((sum, name) => sum + name.length, 0) > 70;
  return axis(title, {
    tickvals: names.map((_, place) => place),
    ticktext: names.map(plainLabel),
    range: [-0.6, names.length - 0.4],
    ...(isLong ? { tickangle: -40, tickfont: { size: 11 } } : {}),
  });
}

/** A straight line across the figure, at one place of one axis. */
export function levelLine(direction: 'across' | 'up', at: number, dash: string): Record<string, unknown> {
  const place =
    direction === 'across'
      ? { xref: 'paper', x0: 0, x1: 1, yref: 'y', y0: at, y1: at }
      : { yref: 'paper', y0: 0, y1: 1, xref: 'x', x0: at, x1: at };
  return { type: 'line', ...place, line: { color: tones.ink, width: 1.2, dash }, layer: 'below' };
}

/** Words beside a line of `levelLine`, inside the figure at its right or upper edge. */
export function levelLabel(direction: 'across' | 'up', at: number, text: string): Record<string, unknown> {
  const place =
    direction === 'across'
      ? { xref: 'paper', x: 1, xanchor: 'right', yref: 'y', y: at, yanchor: 'bottom' }
      : { yref: 'paper', y: 1, yanchor: 'top', xref: 'x', x: at, xanchor: 'left' };
  return { ...place, text: plainLabel(text), showarrow: false, font: { size: 11, color: tones.ink } };
}

/** What a figure is made of; layout settings go over those that all figures share. */
export interface FigureParts {
  readonly id: string;
  readonly caption: string;
  readonly height: number;
  readonly traces: Figure['traces'];
  readonly layout: Readonly<Record<string, unknown>>;
  readonly columns: readonly Column[];
  readonly rows: readonly (readonly Cell[])[];
  readonly notes?: readonly string[];
}

/** A figure in the one style of all figures, with its table. */
export function figureOf({
  id,
  caption,
  height,
  traces,
  layout,
  columns,
  rows,
  notes = [],
}: FigureParts): Figure {
  const shared = {
    width: figureWidth,
    height,
    margin: { l: 60, r: 16, t: 34, b: 48 },
    font: { family: 'system-ui, "Liberation Sans", sans-serif', size: 12, color: tones.ink },
    paper_bgcolor: tones.ground,
    plot_bgcolor: tones.ground,
    hovermode: 'closest',
    showlegend: traces.some((trace) => trace.showlegend === true),
    legend: { orientation: 'h', x: 0, xanchor: 'left', y: 1, yanchor: 'bottom', traceorder: 'normal' },
  };
  const table = { kind: 'table', id, caption, columns, rows, notes } as const;
  return { kind: 'figure', id, caption, traces, layout: { ...shared, ...layout }, table };
}
