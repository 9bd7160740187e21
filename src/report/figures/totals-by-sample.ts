import { column, number, text } from '../cells.js';
import type { Figure } from '../document.js';
import { axis, figureOf, levelLine, namedAxis, plainLabel, rangeOver, tones } from './figure-style.js';

/** What `totalsBySample` draws. */
export interface TotalsBySampleData {
  readonly id: string;
  readonly caption: string;
  readonly totals: readonly {
    readonly sample: string;
    readonly value: number;
    readonly expandedUncertainty: number;
    readonly complete: boolean;
  }[];
  readonly low: number | null;
  readonly high: number | null;
}

/** Totals of oxides with their expanded uncertainties; open marks where held results stand in the sum. */
export function totalsBySample({ id, caption, totals, low, high }: TotalsBySampleData): Figure {
  const limits = [low, high].flatMap((limit) => (limit === null ? [] : [limit]));
  const ends = totals.flatMap((t) => [t.value - t.expandedUncertainty, t.value + t.expandedUncertainty]);
  return figureOf({
    id,
    caption,
    height: 330,
    traces: [
      {
        type: 'scatter',
        mode: 'markers',
        name: 'total',
        x: totals.map((_, place) => place),
        y: totals.map((t) => t.value),
        text: totals.map((t) => plainLabel(t.sample)),
        error_y: {
          type: 'data',
          array: totals.map((t) => t.expandedUncertainty),
          color: tones.ink,
          thickness: 1,
          width: 3,
        },
        marker: {
          symbol: totals.map((t) => (t.complete ? 'circle' : 'circle-open')),
          size: 7,
          color: tones.ink,
        },
        hovertemplate: '%{text}: %{y:.2f}<extra></extra>',
      },
    ],
    layout: {
      xaxis: namedAxis(
        'sample',
        totals.map((t) => t.sample),
      ),
      yaxis: axis('total of oxides, g/100 g', { range: rangeOver([...ends, ...limits]) }),
      shapes: limits.map((limit) => levelLine('across', limit, 'dash')),
    },
    columns: [column('Sample'), column('Total', 'g/100 g'), column('U (95 %)', 'g/100 g')],
    rows: totals.map((t) => [text(t.sample), number(t.value, 5), number(t.expandedUncertainty, 2)]),
    notes: ['Open marks: results that are held for a person stand in the sum.'],
  });
}
