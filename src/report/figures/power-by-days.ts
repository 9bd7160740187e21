import type { PowerCurve } from '../../studies/planning/plan-validation.js';
import { column, countCell, number } from '../cells.js';
import type { Figure } from '../document.js';
import { axis, figureOf, levelLabel, levelLine, seriesDashes, seriesSymbols, tones } from './figure-style.js';

/** Probability that a criterion is shown over the number of days, a line for each number of digestions a day. */
export function powerByDays(
  id: string,
  caption: string,
  curves: readonly PowerCurve[],
  wanted: number,
): Figure {
  return figureOf({
    id,
    caption,
    height: 320,
    traces: curves.map(({ digestionsPerDay, points }, i) => ({
      type: 'scatter',
      mode: 'lines+markers',
      name: `${digestionsPerDay} digestions a day`,
      showlegend: true,
      x: points.map(({ days }) => days),
      y: points.map(({ power }) => 100 * power),
      line: { color: tones.ink, width: 1.3, dash: seriesDashes[i % seriesDashes.length] },
      marker: { symbol: seriesSymbols[i % seriesSymbols.length], size: 7, color: tones.ink },
      hovertemplate: '%{x} days: %{y:.1f} %<extra></extra>',
    })),
    layout: {
      xaxis: axis('days'),
      yaxis: axis('probability that the criterion is shown, %'),
      shapes: [levelLine('across', 100 * wanted, 'dash')],
      annotations: [{ ...levelLabel('across', 100 * wanted, 'wanted'), yanchor: 'top' }],
    },
    columns: [column('Days'), ...curves.map((c) => column(`${c.digestionsPerDay} digestions a day`, '%'))],
    rows: (curves[0]?.points ?? []).map(({ days }, place) => [
      countCell(days),
      ...curves.map((c) => number(100 * c.points[place]!.power, 3)),
    ]),
  });
}
