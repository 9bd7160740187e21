import { column, number, text } from '../cells.js';
import type { Figure } from '../document.js';
import {
  axis,
  figureOf,
  levelLabel,
  levelLine,
  namedAxis,
  plainLabel,
  rangeOver,
  tones,
} from './figure-style.js';

/** What `precisionByDay` draws. */
export interface PrecisionByDayData {
  readonly id: string;
  readonly caption: string;
  readonly unit: string;
  /** Results of single digestions, gathered by day, in order. */
  readonly days: readonly {
    readonly day: string;
    readonly results: readonly { readonly digestion: string; readonly value: number }[];
  }[];
  readonly mean: number;
}

/** Results of digestions by day, with the mean of each day and of all: the eye sees how far days differ beyond digestions. */
export function precisionByDay({ id, caption, unit, days, mean }: PrecisionByDayData): Figure {
  const single = days.flatMap(({ results }, place) => results.map((result) => ({ place, ...result })));
  const dayMean = (results: readonly { readonly value: number }[]): number =>
    results.reduce((sum, { value }) => sum + value, 0) / results.length;
  return figureOf({
    id,
    caption,
    height: 310,
    traces: [
      {
        type: 'scatter',
        mode: 'markers',
        name: 'digestion',
        showlegend: true,
        x: single.map(({ place }) => place),
        y: single.map(({ value }) => value),
        text: single.map(({ digestion }) => plainLabel(digestion)),
        marker: { symbol: 'circle-open', size: 8, color: tones.ink, line: { width: 1.4 } },
        hovertemplate: '%{text}: %{y}<extra></extra>',
      },
      {
        type: 'scatter',
        mode: 'markers',
        name: 'mean of the day',
        showlegend: true,
        x: days.map((_, place) => place),
        y: days.map(({ results }) => dayMean(results)),
        marker: { symbol: 'line-ew', size: 18, color: tones.ink, line: { color: tones.ink, width: 2 } },
        hovertemplate: '%{y}<extra></extra>',
      },
    ],
    layout: {
      xaxis: namedAxis(
        'day',
        days.map(({ day }) => day),
      ),
      yaxis: axis(`result, ${unit}`, { range: rangeOver([mean, ...single.map(({ value }) => value)]) }),
      shapes: [levelLine('across', mean, 'dash')],
      annotations: [levelLabel('across', mean, 'mean')],
    },
    columns: [column('Day'), column('Digestion'), column('Result', unit), column('Mean of the day', unit)],
    rows: days.flatMap(({ day, results }) =>
      results.map(({ digestion, value }) => [
        text(day),
        text(digestion),
        number(value, 5),
        number(dayMean(results), 5),
      ]),
    ),
  });
}
