import { column, empty, number, text } from '../cells.js';
import type { Figure } from '../document.js';
import { axis, figureOf, plainLabel, tones } from './figure-style.js';

/** What `sharesByStep` draws: one bar a result. */
export interface SharesByStepData {
  readonly id: string;
  readonly caption: string;
  readonly bars: readonly ShareBar[];
}

/** Variance of one result split by step; shares add to 1. */
export interface ShareBar {
  readonly analyte: string;
  readonly level: string;
  readonly shares: readonly { readonly step: string; readonly share: number }[];
  /** Step that is drawn dark, with its share written in. */
  readonly emphasised: string;
}

/** A step that reaches this share in no bar is drawn among the others. */
const least = 0.02;

const others = 'other steps';

/** Fills that differ in grey: tone, pattern and ground. */
const fills: readonly (readonly [shape: string, foreground: string, ground: string])[] = [
  ['/', tones.ink, tones.ground],
  ['', tones.middle, tones.middle],
  ['x', tones.ink, tones.ground],
  ['', tones.light, tones.light],
  ['-', tones.ink, tones.ground],
  ['.', tones.ink, tones.light],
  ['|', tones.ink, tones.ground],
  ['\\', tones.ground, tones.middle],
  ['+', tones.ink, tones.ground],
  ['.', tones.ground, tones.middle],
  ['/', tones.ink, tones.light],
  ['|', tones.ground, tones.middle],
];

/**
 * Stacked shares of the variance by step of the chain, one bar a result; readable in grey. Steps that hardly count are
 * drawn together; the table holds each.
 */
export function sharesByStep({ id, caption, bars }: SharesByStepData): Figure {
  const steps = [...new Set(bars.flatMap((bar) => bar.shares.map((s) => s.step)))];
  const shareOf = (bar: ShareBar, step: string) => bar.shares.find((s) => s.step === step)?.share ?? 0;
  const dark = new Set(bars.map((bar) => bar.emphasised));
  const drawn = steps.filter((step) => dark.has(step) || bars.some((bar) => shareOf(bar, step) >= least));
  const rest = steps.filter((step) => !drawn.includes(step));
  const plain = drawn.filter((step) => !dark.has(step));
  const places = bars.map((_, index) => bars.length - index);
  const percent = (step: string) => bars.map((bar) => 100 * shareOf(bar, step));
  const restOf = (bar: ShareBar) => 100 * rest.reduce((sum, step) => sum + shareOf(bar, step), 0);
  const traces = [
    ...plain.map((step, i) => stacked(step, percent(step), places, fills[i % fills.length]!)),
    ...(rest.length === 0
      ? []
      : [stacked(others, bars.map(restOf), places, ['', tones.ground, tones.ground])]),
    ...drawn
      .filter((step) => dark.has(step))
      .map((step) => labelled(stacked(step, percent(step), places, ['', tones.ink, tones.ink]))),
  ];
  return figureOf({
    id,
    caption,
    height: 150 + 21 * bars.length,
    traces,
    layout: {
      barmode: 'relative',
      bargap: 0.25,
      margin: { l: 60, r: 20, t: 70, b: 48 },
      xaxis: axis('share of the variance, %'),
      yaxis: axis('', {
        tickvals: places,
        ticktext: bars.map(({ analyte, level }) => plainLabel(`${analyte}, ${level}`)),
        ticks: '',
      }),
    },
    columns: [
      column('Analyte'),
      column('Level'),
      ...steps.map((step) => column(step, '%')),
      ...(rest.length === 0 ? [] : [column(`${others}, drawn as one`, '%')]),
    ],
    rows: bars.map((bar) => [
      text(bar.analyte),
      text(bar.level),
      ...steps.map((step) =>
        bar.shares.some((s) => s.step === step) ? number(100 * shareOf(bar, step), 2) : empty('none'),
      ),
      ...(rest.length === 0 ? [] : [number(restOf(bar), 2)]),
    ]),
    notes:
      rest.length === 0
        ? []
        : [`Drawn together as ${others}, each below ${100 * least} % in every bar: ${rest.join(', ')}.`],
  });
}

function stacked(
  step: string,
  x: readonly number[],
  y: readonly number[],
  [shape, fgcolor, bgcolor]: (typeof fills)[number],
): Record<string, unknown> {
  return {
    type: 'bar',
    orientation: 'h',
    name: plainLabel(step),
    showlegend: true,
    x,
    y,
    marker: {
      color: bgcolor,
      pattern: { shape, fgcolor, bgcolor, size: 6, solidity: 0.3 },
      line: { color: tones.ink, width: 0.8 },
    },
    hovertemplate: `%{x:.1f} %<extra>${plainLabel(step)}</extra>`,
  };
}

function labelled(trace: Record<string, unknown>): Record<string, unknown> {
  const shares = trace.x as readonly number[];
  return {
    ...trace,
    text: shares.map((share) => (share >= 8 ? `${share.toFixed(0)} %` : '')),
    textposition: 'inside',
    insidetextanchor: 'middle',
    textangle: 0,
    textfont: { color: tones.ground, size: 11 },
  };
}
