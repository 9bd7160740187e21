import { roundToUncertainty } from '../../quantities/rounding.js';
import { column, roundedCell, text } from '../cells.js';
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
  /** Lowest and highest total allowed, g/100 g; null on a side that is left open. */
  readonly low: number | null;
  readonly high: number | null;
}

/** Totals of oxides with their expanded uncertainties; open marks where held results stand in the sum. */
export function totalsBySample({ id, caption, totals, low, high }: TotalsBySampleData): Figure {
  const limits = [
    { at: low, words: 'lowest allowed', beside: 'top' },
    { at: high, words: 'highest allowed', beside: 'bottom' },
  ].flatMap(({ at, words, beside }) =>
    at === null ? [] : [{ at, beside, words: `${words} ${at} g/100 g` }],
  );
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
        text: totals.map((t) => `${plainLabel(t.sample)}: ${roundedText(t)}`),
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
        hovertemplate: '%{text}<extra></extra>',
      },
    ],
    layout: {
      xaxis: namedAxis(
        'sample',
        totals.map((t) => t.sample),
      ),
      yaxis: axis('total of oxides, g/100 g', { range: rangeOver([...ends, ...limits.map(({ at }) => at)]) }),
      shapes: limits.map(({ at }) => levelLine('across', at, 'dash')),
      annotations: limits.map(({ at, words, beside }) => ({
        ...levelLabel('across', at, words),
        // Outside the limits, where fewer totals lie.
        yanchor: beside,
      })),
    },
    columns: [column('Sample'), column('Total', 'g/100 g'), column('U (95 %)', 'g/100 g')],
    rows: totals.map((t) => [
      text(t.sample),
      roundedCell(t.value, t.expandedUncertainty),
      roundedCell(t.expandedUncertainty, t.expandedUncertainty),
    ]),
    notes: ['Open marks: results that are held for a person stand in the sum.'],
  });
}

function roundedText({ value, expandedUncertainty }: TotalsBySampleData['totals'][number]): string {
  const { valueText, uncertaintyText } = roundToUncertainty(value, expandedUncertainty);
  return `${valueText} ± ${uncertaintyText}`;
}
