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

/** What `blanksOverRuns` draws. */
export interface BlankData {
  readonly id: string;
  readonly caption: string;
  readonly unit: string;
  /** Procedure blanks in order of time; `excluded` gives the recorded cause, empty where the blank counts. */
  readonly blanks: readonly {
    readonly run: string;
    readonly digestion: string;
    readonly value: number;
    readonly excluded: string;
  }[];
  /** Largest blank allowed, in `unit`; `null` where none is set. */
  readonly allowed: number | null;
}

type Blank = BlankData['blanks'][number] & { readonly place: number };

function traceOf(name: string, symbol: string, blanks: readonly Blank[]): Record<string, unknown> {
  return {
    type: 'scatter',
    mode: 'markers',
    name,
    showlegend: true,
    x: blanks.map(({ place }) => place),
    y: blanks.map(({ value }) => value),
    text: blanks.map(({ run, digestion }) => plainLabel(`${run}, ${digestion}`)),
    marker: { symbol, size: 9, color: tones.ink, line: { color: tones.ink, width: 1.4 } },
    hovertemplate: '%{text}: %{y}<extra></extra>',
  };
}

/** Procedure blanks in order of time, runs parted by lines; excluded ones are crossed and stay in sight. */
export function blanksOverRuns({ id, caption, unit, blanks, allowed }: BlankData): Figure {
  const placed = blanks.map((blank, place) => ({ ...blank, place }));
  const counted = placed.filter(({ excluded }) => excluded === '');
  const excluded = placed.filter((blank) => blank.excluded !== '');
  const turns = placed.filter(({ run, place }) => place > 0 && placed[place - 1]?.run !== run);
  return figureOf({
    id,
    caption,
    height: 310,
    traces: [
      traceOf('procedure blank', 'circle-open', counted),
      ...(excluded.length === 0 ? [] : [traceOf('excluded, with recorded cause', 'x-thin', excluded)]),
    ],
    layout: {
      xaxis: namedAxis(
        'digestion, runs parted by dotted lines',
        blanks.map(({ digestion }) => digestion),
      ),
      yaxis: axis(`blank, ${unit}`, {
        range: rangeOver([0, ...(allowed === null ? [] : [allowed]), ...blanks.map(({ value }) => value)]),
      }),
      shapes: [
        ...turns.map(({ place }) => levelLine('up', place - 0.5, 'dot')),
        ...(allowed === null ? [] : [levelLine('across', allowed, 'dash')]),
      ],
      annotations: allowed === null ? [] : [levelLabel('across', allowed, 'allowed')],
    },
    columns: [column('Run'), column('Digestion'), column('Blank', unit), column('Excluded because')],
    rows: blanks.map(({ run, digestion, value, excluded: cause }) => [
      text(run),
      text(digestion),
      number(value, 3),
      text(cause),
    ]),
  });
}
