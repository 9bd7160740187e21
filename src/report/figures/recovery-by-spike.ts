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
  seriesSymbols,
  tones,
} from './figure-style.js';

/** What `recoveryBySpike` draws; recoveries in %. */
export interface RecoveryData {
  readonly id: string;
  readonly caption: string;
  readonly spikes: readonly {
    readonly digestion: string;
    readonly stage: string;
    readonly recovery: number;
    readonly standardUncertainty: number;
  }[];
  /** Allowed range, `null` where none is set. */
  readonly allowed: { readonly low: number; readonly high: number } | null;
}

type Spike = RecoveryData['spikes'][number];

function traceOf(stage: string, symbol: string, spikes: readonly Spike[]): Record<string, unknown> {
  const own = spikes.map((spike, place) => ({ ...spike, place })).filter((spike) => spike.stage === stage);
  return {
    type: 'scatter',
    mode: 'markers',
    name: plainLabel(stage),
    showlegend: true,
    x: own.map(({ place }) => place),
    y: own.map(({ recovery }) => recovery),
    marker: { symbol, size: 9, color: tones.ink, line: { color: tones.ink, width: 1.4 } },
    error_y: {
      type: 'data',
      array: own.map(({ standardUncertainty }) => standardUncertainty),
      color: tones.middle,
      thickness: 1.2,
      width: 4,
    },
    hovertemplate: '%{y:.1f} %<extra></extra>',
  };
}

function drawnValues(spikes: readonly Spike[]): number[] {
  return spikes.flatMap(({ recovery, standardUncertainty: u }) => [recovery - u, recovery + u]);
}

/** Recovery of each spike with its standard uncertainty, the stage of the addition told apart by shape. */
export function recoveryBySpike({ id, caption, spikes, allowed }: RecoveryData): Figure {
  const stages = [...new Set(spikes.map(({ stage }) => stage))];
  const lines = allowed === null ? [] : [allowed.low, allowed.high];
  return figureOf({
    id,
    caption,
    height: 310,
    traces: stages.map((stage, index) =>
      traceOf(stage, seriesSymbols[index % seriesSymbols.length] ?? 'circle', spikes),
    ),
    layout: {
      xaxis: namedAxis(
        'digestion',
        spikes.map(({ digestion }) => digestion),
      ),
      yaxis: axis('recovery, %', { range: rangeOver([100, ...lines, ...drawnValues(spikes)]) }),
      shapes: [levelLine('across', 100, 'solid'), ...lines.map((at) => levelLine('across', at, 'dash'))],
      annotations: lines.map((at) => levelLabel('across', at, `allowed ${at} %`)),
    },
    columns: [
      column('Digestion'),
      column('Stage'),
      column('Recovery', '%'),
      column('Standard uncertainty', '%'),
    ],
    rows: spikes.map(({ digestion, stage, recovery, standardUncertainty }) => [
      text(digestion),
      text(stage),
      number(recovery, 4),
      number(standardUncertainty, 2),
    ]),
  });
}
