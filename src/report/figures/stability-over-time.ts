import { column, number, text } from '../cells.js';
import type { Figure } from '../document.js';
import {
  axis,
  figureOf,
  levelLabel,
  levelLine,
  plainLabel,
  rangeOver,
  seriesDashes,
  seriesSymbols,
  tones,
} from './figure-style.js';

/** What `stabilityOverTime` draws. */
export interface StabilityData {
  readonly id: string;
  readonly caption: string;
  /** One series an analyte, mean of the digestions followed: hours since dissolution, and the value relative to the first one in %. */
  readonly series: readonly {
    readonly name: string;
    readonly points: readonly { readonly hours: number; readonly relative: number }[];
  }[];
  /** Allowed change ± in %, `null` where none is set. */
  readonly allowed: number | null;
  /** Longest time to reading that is wanted, in hours; `null` where none is set. */
  readonly wantedHours: number | null;
}

/** Mass fraction found in stored solutions over time, relative to the first reading. */
export function stabilityOverTime({ id, caption, series, allowed, wantedHours }: StabilityData): Figure {
  const lines = allowed === null ? [] : [100 - allowed, 100 + allowed];
  return figureOf({
    id,
    caption,
    height: 310,
    traces: series.map(({ name, points }, index) => ({
      type: 'scatter',
      mode: 'markers+lines',
      name: plainLabel(name),
      showlegend: true,
      x: points.map(({ hours }) => hours),
      y: points.map(({ relative }) => relative),
      line: { color: tones.middle, width: 1, dash: seriesDashes[index % seriesDashes.length] },
      marker: {
        symbol: seriesSymbols[index % seriesSymbols.length],
        size: 8,
        color: tones.ink,
        line: { color: tones.ink, width: 1.3 },
      },
      hovertemplate: '%{x} h: %{y:.2f} %<extra></extra>',
    })),
    layout: {
      xaxis: axis('time since dissolution, h', { rangemode: 'tozero' }),
      yaxis: axis('relative to the first reading, %', {
        range: rangeOver([
          100,
          ...lines,
          ...series.flatMap(({ points }) => points.map(({ relative }) => relative)),
        ]),
      }),
      shapes: [
        levelLine('across', 100, 'solid'),
        ...lines.map((at) => levelLine('across', at, 'dash')),
        ...(wantedHours === null ? [] : [levelLine('up', wantedHours, 'dot')]),
      ],
      annotations: [
        ...lines.map((at) => levelLabel('across', at, `allowed ${Number(at.toPrecision(6))} %`)),
        ...(wantedHours === null ? [] : [levelLabel('up', wantedHours, 'wanted')]),
      ],
    },
    columns: [column('Analyte'), column('Time', 'h'), column('Relative to the first reading', '%')],
    rows: series.flatMap(({ name, points }) =>
      points.map(({ hours, relative }) => [text(name), number(hours, 4), number(relative, 5)]),
    ),
  });
}
