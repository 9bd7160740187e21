import { column, number, text } from '../cells.js';
import type { Figure } from '../document.js';
import { axis, figureOf, levelLine, plainLabel, rangeOver, tones } from './figure-style.js';

/** What `trendOverSequence` draws. */
export interface TrendData {
  readonly id: string;
  readonly caption: string;
  /** What the values are, for the axis: "% of the mean of its material". */
  readonly axisTitle: string;
  readonly points: readonly {
    readonly run: string;
    readonly position: number;
    readonly value: number;
  }[];
  /** Line of each run, from its first to its last place. */
  readonly lines: readonly {
    readonly run: string;
    readonly from: readonly [number, number];
    readonly to: readonly [number, number];
  }[];
  readonly centre: number;
}

/** Values over the places of the sequence, runs laid over each other, with the line of each run. */
export function trendOverSequence({ id, caption, axisTitle, points, lines, centre }: TrendData): Figure {
  return figureOf({
    id,
    caption,
    height: 310,
    traces: [
      ...lines.map(({ run, from, to }, index) => ({
        type: 'scatter',
        mode: 'lines',
        name: 'line of one run',
        showlegend: index === 0,
        x: [from[0], to[0]],
        y: [from[1], to[1]],
        marker: { symbol: 'line-ew' },
        line: { color: tones.middle, width: 1 },
        hovertemplate: `${plainLabel(run)}<extra></extra>`,
      })),
      {
        type: 'scatter',
        mode: 'markers',
        name: 'result',
        showlegend: true,
        x: points.map(({ position }) => position),
        y: points.map(({ value }) => value),
        text: points.map(({ run }) => plainLabel(run)),
        marker: { symbol: 'circle-open', size: 6, color: tones.ink, line: { width: 1.2 } },
        hovertemplate: '%{text}, place %{x}: %{y:.2f}<extra></extra>',
      },
    ],
    layout: {
      xaxis: axis('place in the sequence of the run', { rangemode: 'tozero' }),
      yaxis: axis(axisTitle, { range: rangeOver([centre, ...points.map(({ value }) => value)]) }),
      shapes: [levelLine('across', centre, 'dash')],
    },
    columns: [column('Run'), column('Place'), column('Value', '%')],
    rows: points.map(({ run, position, value }) => [text(run), number(position, 4), number(value, 5)]),
  });
}
