import { column, number, text } from '../cells.js';
import type { Figure } from '../document.js';
import { axis, figureOf, plainLabel, tones } from './figure-style.js';

/** What `routesSideBySide` draws: relative standard uncertainties in %. */
export interface RoutesSideBySideData {
  readonly id: string;
  readonly caption: string;
  readonly results: readonly {
    readonly analyte: string;
    readonly level: string;
    readonly componentsAlone: number;
    readonly components: number;
    readonly precision: number;
    /** Of the precision route, from the 95 % interval of the observed scatter. */
    readonly interval: { readonly low: number; readonly high: number };
  }[];
}

/** Standard uncertainty of each result by both counting routes, with what the observed scatter can tell of it. */
export function routesSideBySide({ id, caption, results }: RoutesSideBySideData): Figure {
  const places = results.map((_, index) => results.length - index);
  const at = (offset: number) => places.map((place) => place + offset);
  const mark = (name: string, symbol: string, x: readonly number[], offset: number) => ({
    type: 'scatter',
    mode: 'markers',
    name,
    showlegend: true,
    x,
    y: at(offset),
    marker: { symbol, size: 8, color: tones.ink, line: { color: tones.ink, width: 1.3 } },
    hovertemplate: `%{x:.2g} %<extra>${name}</extra>`,
  });
  const interval = {
    error_x: {
      type: 'data',
      symmetric: false,
      array: results.map(({ precision, interval: { high } }) => high - precision),
      arrayminus: results.map(({ precision, interval: { low } }) => precision - low),
      color: tones.middle,
      thickness: 1.4,
      width: 3,
    },
  };
  return figureOf({
    id,
    caption,
    height: 150 + 24 * results.length,
    traces: [
      mark(
        'components alone',
        'diamond-open',
        results.map((r) => r.componentsAlone),
        0.26,
      ),
      mark(
        'components with the unexplained variation',
        'cross-thin-open',
        results.map((r) => r.components),
        0,
      ),
      {
        ...mark(
          'precision, with 95 % interval',
          'circle',
          results.map((r) => r.precision),
          -0.26,
        ),
        ...interval,
      },
    ],
    layout: {
      margin: { l: 60, r: 20, t: 50, b: 48 },
      xaxis: axis('relative standard uncertainty of a reported result, %', { rangemode: 'tozero' }),
      yaxis: axis('', {
        tickvals: places,
        ticktext: results.map(({ analyte, level }) => plainLabel(`${analyte}, ${level}`)),
        range: [0.3, results.length + 0.7],
      }),
    },
    columns: [
      column('Analyte'),
      column('Level'),
      column('Components alone', '%'),
      column('Components with the unexplained variation', '%'),
      column('Precision route', '%'),
      column('95 % interval of the precision route: from', '%'),
      column('to', '%'),
    ],
    rows: results.map((r) => [
      text(r.analyte),
      text(r.level),
      number(r.componentsAlone, 2),
      number(r.components, 2),
      number(r.precision, 2),
      number(r.interval.low, 2),
      number(r.interval.high, 2),
    ]),
    notes: [
      'The interval stands for the few days on which the scatter was observed. Components alone that lie below it promise less uncertainty than the results show.',
    ],
  });
}
