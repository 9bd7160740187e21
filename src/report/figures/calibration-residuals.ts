import { column, number, text } from '../cells.js';
import type { Figure } from '../document.js';
import { axis, figureOf, levelLine, plainLabel, rangeOver, tones } from './figure-style.js';

/** What `calibrationResiduals` draws. */
export interface CalibrationResidualData {
  readonly id: string;
  readonly caption: string;
  /** Unit of the mass fractions. */
  readonly unit: string;
  /** `residual` in standard deviations of the fit: weighted residual divided by the residual standard deviation. */
  readonly points: readonly {
    readonly solution: string;
    readonly massFraction: number;
    readonly residual: number;
  }[];
}

/** Residuals of a calibration against mass fraction: a bend or a funnel shows a wrong function or wrong weights. */
export function calibrationResiduals({ id, caption, unit, points }: CalibrationResidualData): Figure {
  return figureOf({
    id,
    caption,
    height: 290,
    traces: [
      {
        type: 'scatter',
        mode: 'markers',
        x: points.map(({ massFraction }) => massFraction),
        y: points.map(({ residual }) => residual),
        text: points.map(({ solution }) => plainLabel(solution)),
        marker: { symbol: 'circle-open', size: 8, color: tones.ink, line: { width: 1.4 } },
        hovertemplate: '%{text}: %{y:.2f}<extra></extra>',
      },
    ],
    layout: {
      xaxis: axis(`mass fraction, ${unit}`),
      yaxis: axis('residual, in standard deviations', {
        range: rangeOver([-2, 2, ...points.map(({ residual }) => residual)]),
      }),
      shapes: [
        levelLine('across', 0, 'solid'),
        levelLine('across', 2, 'dot'),
        levelLine('across', -2, 'dot'),
      ],
    },
    columns: [column('Solution'), column('Mass fraction', unit), column('Residual', 'standard deviations')],
    rows: points.map(({ solution, massFraction, residual }) => [
      text(solution),
      number(massFraction, 4),
      number(residual, 3),
    ]),
  });
}
