import { column, number, text } from '../cells.js';
import type { Figure } from '../document.js';
import { axis, figureOf, levelLine, rangeOver, tones } from './figure-style.js';

/** What `foundAgainstCertified` draws; contents in `unit`. */
export interface FoundAgainstCertifiedData {
  readonly id: string;
  readonly caption: string;
  readonly unit: string;
  readonly horizontal: string;
  /** Heading of the last column, where the uncertainty is not that of the whole difference. */
  readonly differenceUncertainty?: string;
  readonly points: readonly {
    readonly name: string;
    readonly certified: number;
    readonly certifiedStandardUncertainty: number;
    readonly difference: number;
    readonly differenceStandardUncertainty: number;
  }[];
  /** Difference along a fitted line at two contents; null where none is fitted. */
  readonly line: readonly { readonly content: number; readonly difference: number }[];
}

/** Difference from certified (or other) values over the content, with standard uncertainties in both directions. */
export function foundAgainstCertified(data: FoundAgainstCertifiedData): Figure {
  const { id, caption, unit, horizontal, points, line } = data;
  const differenceUncertainty = data.differenceUncertainty ?? 'its standard uncertainty';
  const bar = (array: readonly number[]) => ({
    type: 'data',
    array: array.map((u) => 2 * u),
    color: tones.middle,
    thickness: 1.2,
    width: 4,
  });
  return figureOf({
    id,
    caption,
    height: 310,
    traces: [
      {
        type: 'scatter',
        mode: 'lines',
        x: line.map(({ content }) => content),
        y: line.map(({ difference }) => difference),
        line: { color: tones.ink, width: 1.6, dash: 'dash' },
        hoverinfo: 'skip',
      },
      {
        type: 'scatter',
        mode: 'markers',
        x: points.map(({ certified }) => certified),
        y: points.map(({ difference }) => difference),
        error_x: bar(points.map((p) => p.certifiedStandardUncertainty)),
        error_y: bar(points.map((p) => p.differenceStandardUncertainty)),
        marker: { symbol: 'diamond', size: 9, color: tones.ink },
        hovertemplate: '%{x:.4g}: %{y:.3g}<extra></extra>',
      },
    ],
    layout: {
      margin: { l: 70, r: 16, t: 14, b: 48 },
      xaxis: axis(`${horizontal}, ${unit}`),
      yaxis: axis(`difference found, ${unit}`, {
        range: rangeOver([
          0,
          ...line.map(({ difference }) => difference),
          ...points.flatMap((p) => [
            p.difference - 2 * p.differenceStandardUncertainty,
            p.difference + 2 * p.differenceStandardUncertainty,
          ]),
        ]),
      }),
      shapes: [levelLine('across', 0, 'solid')],
    },
    columns: [
      column('Name'),
      column(horizontal, unit),
      column('its standard uncertainty', unit),
      column('Difference found', unit),
      column(differenceUncertainty, unit),
    ],
    rows: points.map((p) => [
      text(p.name),
      number(p.certified, 5),
      number(p.certifiedStandardUncertainty, 2),
      number(p.difference, 3),
      number(p.differenceStandardUncertainty, 2),
    ]),
    notes: ['Bars in the figure are twice the standard uncertainties.'],
  });
}
