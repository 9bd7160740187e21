import { column, countCell, number, text } from '../cells.js';
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

/** What `portionsByUnit` draws. */
export interface PortionsData {
  readonly id: string;
  readonly caption: string;
  readonly unit: string;
  readonly portions: readonly {
    readonly container: string;
    readonly portion: number;
    readonly value: number;
  }[];
  readonly mean: number;
}

/** Results of portions by the container they were taken from: containers that differ beyond their portions are not alike. */
export function portionsByUnit({ id, caption, unit, portions, mean }: PortionsData): Figure {
  const containers = [...new Set(portions.map(({ container }) => container))];
  return figureOf({
    id,
    caption,
    height: 290,
    traces: [
      {
        type: 'scatter',
        mode: 'markers',
        x: portions.map(({ container }) => containers.indexOf(container)),
        y: portions.map(({ value }) => value),
        text: portions.map(({ container, portion }) => plainLabel(`${container}, portion ${portion}`)),
        marker: { symbol: 'circle-open', size: 8, color: tones.ink, line: { width: 1.4 } },
        hovertemplate: '%{text}: %{y}<extra></extra>',
      },
    ],
    layout: {
      xaxis: namedAxis('container', containers),
      yaxis: axis(`result, ${unit}`, { range: rangeOver([mean, ...portions.map(({ value }) => value)]) }),
      shapes: [levelLine('across', mean, 'dash')],
      annotations: [levelLabel('across', mean, 'mean')],
    },
    columns: [column('Container'), column('Portion'), column('Result', unit)],
    rows: portions.map(({ container, portion, value }) => [
      text(container),
      countCell(portion),
      number(value, 5),
    ]),
  });
}
