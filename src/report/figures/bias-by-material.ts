import { column, number, text } from '../cells.js';
import type { Figure } from '../document.js';
import { axis, figureOf, levelLine, namedAxis, rangeOver, tones } from './figure-style.js';

/** What `biasByMaterial` draws; all in %. */
export interface BiasData {
  readonly id: string;
  readonly caption: string;
  /** Title of the axis of names; reference materials where not given. */
  readonly horizontal?: string;
  /** Title of the axis of values; relative bias where not given. */
  readonly vertical?: string;
  readonly materials: readonly {
    readonly material: string;
    readonly bias: number;
    /** Two-sided 95 % interval of the bias. */
    readonly low: number;
    readonly high: number;
    /** Allowed bias ±, `null` where none is set. */
    readonly allowed: number | null;
  }[];
}

/** What is allowed, as a pair of brackets around zero at the place of one material. */
function brackets(place: number, allowed: number): Record<string, unknown>[] {
  return [-allowed, allowed].map((at) => ({
    type: 'line',
    xref: 'x',
    yref: 'y',
    x0: place - 0.32,
    x1: place + 0.32,
    y0: at,
    y1: at,
    line: { color: tones.ink, width: 1.6, dash: 'dash' },
  }));
}

/** Relative bias against each reference material with its 95 % interval; dashed lines are what is allowed there. */
export function biasByMaterial({
  id,
  caption,
  materials,
  horizontal = 'reference material',
  vertical = 'relative bias, %',
}: BiasData): Figure {
  return figureOf({
    id,
    caption,
    height: 310,
    traces: [
      {
        type: 'scatter',
        mode: 'markers',
        x: materials.map((_, place) => place),
        y: materials.map(({ bias }) => bias),
        marker: { symbol: 'diamond', size: 10, color: tones.ink },
        error_y: {
          type: 'data',
          symmetric: false,
          array: materials.map(({ bias, high }) => high - bias),
          arrayminus: materials.map(({ bias, low }) => bias - low),
          color: tones.ink,
          thickness: 1.4,
          width: 6,
        },
        hovertemplate: '%{y:.2f} %<extra></extra>',
      },
    ],
    layout: {
      margin: { l: 60, r: 16, t: 14, b: 48 },
      xaxis: namedAxis(
        horizontal,
        materials.map(({ material }) => material),
      ),
      yaxis: axis(vertical, {
        range: rangeOver(
          materials.flatMap(({ low, high, allowed }) => [0, low, high, allowed ?? 0, -(allowed ?? 0)]),
        ),
      }),
      shapes: [
        levelLine('across', 0, 'solid'),
        ...materials.flatMap(({ allowed }, place) => (allowed === null ? [] : brackets(place, allowed))),
      ],
    },
    columns: [
      column('Material'),
      column('Bias', '%'),
      column('95 % interval, low', '%'),
      column('95 % interval, high', '%'),
      column('Allowed ±', '%'),
    ],
    rows: materials.map(({ material, bias, low, high, allowed }) => [
      text(material),
      number(bias, 3),
      number(low, 3),
      number(high, 3),
      allowed === null ? text('none set') : number(allowed, 3),
    ]),
  });
}
