import { column, number, text } from '../cells.js';
import type { Figure } from '../document.js';
import { axis, figureOf, levelLabel, levelLine, plainLabel, tones } from './figure-style.js';

/** What `halfNormalEffects` draws. */
export interface HalfNormalData {
  readonly id: string;
  readonly caption: string;
  readonly unit: string;
  /** Effects with their scores; `low` and `high` are the one-sided 95 % limits of the effect. */
  readonly effects: readonly {
    readonly factor: string;
    readonly effect: number;
    readonly score: number;
    readonly low: number;
    readonly high: number;
  }[];
  readonly standardError: number;
  /** Largest effect allowed, in `unit`; null where none is set. */
  readonly allowed: number | null;
}

/** Sizes of effects over their half-normal scores: scatter lies along the line of the standard error, effects that matter above it. */
export function halfNormalEffects({
  id,
  caption,
  unit,
  effects,
  standardError,
  allowed,
}: HalfNormalData): Figure {
  const farthest = Math.max(...effects.map(({ score }) => score));
  const largest = Math.max(...effects.map(({ effect }) => Math.abs(effect)), allowed ?? 0);
  return figureOf({
    id,
    caption,
    height: 330,
    traces: [
      {
        type: 'scatter',
        mode: 'markers',
        name: 'factor',
        showlegend: true,
        x: effects.map(({ score }) => score),
        y: effects.map(({ effect }) => Math.abs(effect)),
        text: effects.map(({ factor }) => plainLabel(factor)),
        marker: { symbol: 'circle-open', size: 8, color: tones.ink, line: { width: 1.4 } },
        hovertemplate: '%{text}: %{y:.3g}<extra></extra>',
      },
      {
        type: 'scatter',
        mode: 'lines',
        name: 'scatter alone',
        showlegend: true,
        x: [0, farthest],
        y: [0, standardError * farthest],
        marker: { symbol: 'line-ew' },
        line: { color: tones.middle, width: 1.2, dash: 'dash' },
        hoverinfo: 'skip',
      },
    ],
    layout: {
      xaxis: axis('factor, at its half-normal score', {
        range: [0, 1.08 * farthest],
        tickvals: effects.map(({ score }) => score),
        ticktext: effects.map(({ factor }) => plainLabel(factor)),
        tickangle: -40,
        tickfont: { size: 11 },
      }),
      yaxis: axis(`size of the effect, ${unit}`, { range: [0, 1.12 * largest] }),
      shapes: allowed === null ? [] : [levelLine('across', allowed, 'solid')],
      annotations: allowed === null ? [] : [levelLabel('across', allowed, 'allowed')],
    },
    columns: [
      column('Factor'),
      column('Effect, high less low level', unit),
      column('Size of the effect', unit),
      column('Lower one-sided limit', unit),
      column('Upper one-sided limit', unit),
      column('Half-normal score'),
    ],
    rows: effects.map(({ factor, effect, score, low, high }) => [
      text(factor),
      number(effect, 3),
      number(Math.abs(effect), 3),
      number(low, 3),
      number(high, 3),
      number(score, 3),
    ]),
    notes: ['Limits are one-sided at 95 % confidence. The dashed line is what scatter alone would give.'],
  });
}
