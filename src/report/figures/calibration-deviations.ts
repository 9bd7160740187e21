import { column, number, numberOr, text } from '../cells.js';
import type { Figure } from '../document.js';
import { axis, figureOf, levelLabel, levelLine, namedAxis, rangeOver, tones } from './figure-style.js';

/** Back-calculated deviations of one calibration level from its nominal mass fraction. */
export interface CalibrationLevel {
  readonly level: string;
  readonly massFraction: number;
  /** Relative deviation of each standard solution or run, in %. */
  readonly deviations: readonly number[];
  /** 90 % interval of the mean deviation, in %; `null` where there are too few. */
  readonly interval: { readonly low: number; readonly high: number } | null;
}

/** What `calibrationDeviations` draws. */
export interface CalibrationDeviationData {
  readonly id: string;
  readonly caption: string;
  /** Unit of the mass fractions. */
  readonly unit: string;
  readonly levels: readonly CalibrationLevel[];
  /** Allowed deviation ± in %, `null` where none is set. */
  readonly allowed: number | null;
}

const meanOf = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

function meansTrace(levels: readonly CalibrationLevel[]): Record<string, unknown> {
  const places = levels.map((_, index) => index);
  const means = levels.map(({ deviations }) => meanOf(deviations));
  const reach = (side: (level: CalibrationLevel, mean: number) => number): number[] =>
    levels.map((level, index) => (level.interval === null ? 0 : side(level, means[index] ?? 0)));
  return {
    type: 'scatter',
    mode: 'markers',
    name: 'mean and its 90 % interval',
    showlegend: true,
    x: places.map((place) => place + 0.18),
    y: means,
    marker: { symbol: 'diamond', size: 10, color: tones.ink },
    error_y: {
      type: 'data',
      symmetric: false,
      array: reach(({ interval }, mean) => (interval?.high ?? mean) - mean),
      arrayminus: reach(({ interval }, mean) => mean - (interval?.low ?? mean)),
      color: tones.ink,
      thickness: 1.4,
      width: 6,
    },
    hovertemplate: '%{y:.2f} %<extra></extra>',
  };
}

function drawnValues(levels: readonly CalibrationLevel[]): number[] {
  return levels.flatMap(({ deviations, interval }) =>
    interval === null ? deviations : [...deviations, interval.low, interval.high],
  );
}

function limitLines(allowed: number | null): Record<string, unknown> {
  if (allowed === null) return { shapes: [levelLine('across', 0, 'solid')] };
  return {
    shapes: [
      levelLine('across', 0, 'solid'),
      levelLine('across', allowed, 'dash'),
      levelLine('across', -allowed, 'dash'),
    ],
    annotations: [levelLabel('across', allowed, `allowed ± ${allowed} %`)],
  };
}

/**
 * Relative deviation of the back-calculated mass fraction at each calibration level, with the 90 % interval of the mean
 * that decides on linearity by equivalence.
 */
export function calibrationDeviations({
  id,
  caption,
  unit,
  levels,
  allowed,
}: CalibrationDeviationData): Figure {
  const single = levels.flatMap(({ deviations }, place) =>
    deviations.map((deviation) => ({ place, deviation })),
  );
  const bounds = allowed === null ? [0] : [-allowed, allowed];
  const names = levels.map(({ level, massFraction }) => `${level} (${Number(massFraction.toPrecision(3))})`);
  return figureOf({
    id,
    caption,
    height: 320,
    traces: [
      {
        type: 'scatter',
        mode: 'markers',
        name: 'single',
        showlegend: true,
        x: single.map(({ place }) => place),
        y: single.map(({ deviation }) => deviation),
        marker: { symbol: 'circle-open', size: 7, color: tones.middle },
        hovertemplate: '%{y:.2f} %<extra></extra>',
      },
      meansTrace(levels),
    ],
    layout: {
      xaxis: namedAxis(`level (mass fraction, ${unit})`, names),
      yaxis: axis('relative deviation, %', { range: rangeOver([...drawnValues(levels), ...bounds]) }),
      ...limitLines(allowed),
    },
    columns: [
      column('Level'),
      column('Mass fraction', unit),
      column('Deviation', '%'),
      column('Mean of the level', '%'),
      column('90 % interval, low', '%'),
      column('90 % interval, high', '%'),
    ],
    rows: levels.flatMap(({ level, massFraction, deviations, interval }) =>
      deviations.map((deviation) => [
        text(level),
        number(massFraction, 4),
        number(deviation, 3),
        number(meanOf(deviations), 3),
        numberOr(interval?.low ?? null, 3, 'too few'),
        numberOr(interval?.high ?? null, 3, 'too few'),
      ]),
    ),
  });
}
