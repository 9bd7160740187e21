import { column, numberOr, text } from '../cells.js';
import type { Figure } from '../document.js';
import {
  axis,
  figureOf,
  levelLabel,
  levelLine,
  namedAxis,
  plainLabel,
  seriesSymbols,
  tones,
} from './figure-style.js';

/** What `detectionByApproach` draws. */
export interface DetectionByApproachData {
  readonly id: string;
  readonly caption: string;
  readonly approaches: readonly string[];
  /** Detection limit ÷ lowest mass fraction reported, in the order of the approaches; null where an approach gives none. */
  readonly analytes: readonly { readonly analyte: string; readonly shares: readonly (number | null)[] }[];
}

/** Detection limits of all approaches on one logarithmic scale, where 1 is the lowest mass fraction that is to be reported. */
export function detectionByApproach({ id, caption, approaches, analytes }: DetectionByApproachData): Figure {
  const spread = (index: number) => (index - (approaches.length - 1) / 2) * 0.11;
  const traces = approaches.map((name, index) => {
    const shown = analytes
      .map(({ shares }, place) => ({ place, share: shares[index] ?? null }))
      .filter((p): p is { place: number; share: number } => p.share !== null && p.share > 0);
    return {
      type: 'scatter',
      mode: 'markers',
      name: plainLabel(name),
      showlegend: true,
      x: shown.map(({ place }) => place + spread(index)),
      y: shown.map(({ share }) => share),
      marker: {
        symbol: seriesSymbols[index % seriesSymbols.length],
        size: 9,
        color: tones.ink,
        line: { color: tones.ink, width: 1.4 },
      },
      hovertemplate: '%{y:.2g}<extra></extra>',
    };
  });
  return figureOf({
    id,
    caption,
    height: 380,
    traces,
    layout: {
      margin: { l: 60, r: 16, t: 70, b: 48 },
      xaxis: namedAxis(
        'analyte',
        analytes.map(({ analyte }) => analyte),
      ),
      yaxis: axis('limit ÷ lowest mass fraction reported', { type: 'log', dtick: 1 }),
      shapes: [levelLine('across', 1, 'dash')],
      // Annotations on a logarithmic axis are placed by exponent.
      annotations: [levelLabel('across', 0, 'lowest mass fraction reported')],
    },
    columns: [column('Analyte'), ...approaches.map((name) => column(name))],
    rows: analytes.map(({ analyte, shares }) => [
      text(analyte),
      ...approaches.map((_, index) => numberOr(shares[index] ?? null, 2, 'none')),
    ]),
  });
}
