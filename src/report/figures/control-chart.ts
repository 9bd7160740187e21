import { column, empty, number, text } from '../cells.js';
import type { Figure } from '../document.js';
import { axis, figureOf, levelLine, plainLabel, seriesSymbols, tones } from './figure-style.js';

/** A stretch of control results that shares one set of limits. */
export interface ControlPeriod {
  readonly name: string;
  readonly points: readonly { readonly label: string; readonly value: number; readonly flag: string }[];
  readonly centre: number;
  /** Distance of warning and action limits from the centre; `null` where they are not set. */
  readonly warning: number | null;
  readonly action: number | null;
}

/** What `controlChart` draws: one period, or one before and one after a change. */
export interface ControlChartData {
  readonly id: string;
  readonly caption: string;
  readonly unit: string;
  readonly periods: readonly ControlPeriod[];
  /** Such as the rule that flags, after the limits. */
  readonly notes?: readonly string[];
}

function limitTraces(
  { centre, warning, action }: ControlPeriod,
  from: number,
  to: number,
): Record<string, unknown>[] {
  const levels: readonly (readonly [number, string])[] = [
    [centre, 'solid'],
    ...(warning === null
      ? []
      : ([
          [centre - warning, 'dot'],
          [centre + warning, 'dot'],
        ] as const)),
    ...(action === null
      ? []
      : ([
          [centre - action, 'dash'],
          [centre + action, 'dash'],
        ] as const)),
  ];
  return levels.map(([at, dash]) => ({
    type: 'scatter',
    mode: 'lines',
    showlegend: false,
    x: [from - 0.4, to + 0.4],
    y: [at, at],
    line: { color: tones.ink, width: 1, dash },
    hoverinfo: 'skip',
  }));
}

function pointTrace(period: ControlPeriod, from: number, symbol: string): Record<string, unknown> {
  return {
    type: 'scatter',
    mode: 'markers+lines',
    name: plainLabel(period.name),
    showlegend: true,
    x: period.points.map((_, index) => from + index),
    y: period.points.map(({ value }) => value),
    text: period.points.map(({ label, flag }) => plainLabel(flag === '' ? label : `${label}: ${flag}`)),
    line: { color: tones.light, width: 1 },
    marker: {
      symbol,
      size: period.points.map(({ flag }) => (flag === '' ? 7 : 12)),
      color: tones.ink,
      line: { color: tones.ink, width: 1.3 },
    },
    hovertemplate: '%{text}: %{y}<extra></extra>',
  };
}

/**
 * Control results in order of time with centre (full line), warning (dotted) and action limits (dashed) of each period; a
 * flagged result has a larger mark, and the table says why.
 */
export function controlChart({ id, caption, unit, periods, notes = [] }: ControlChartData): Figure {
  const traces: Record<string, unknown>[] = [];
  const shapes: Record<string, unknown>[] = [];
  let from = 1;
  periods.forEach((period, index) => {
    const to = from + period.points.length - 1;
    traces.push(...limitTraces(period, from, to));
    traces.push(pointTrace(period, from, seriesSymbols[index % seriesSymbols.length] ?? 'circle'));
    if (index > 0) shapes.push(levelLine('up', from - 0.5, 'longdash'));
    from = to + 1;
  });
  return figureOf({
    id,
    caption,
    height: 330,
    traces,
    layout: { xaxis: axis('control result, in order of time'), yaxis: axis(`value, ${unit}`), shapes },
    columns: [column('Period'), column('Result'), column('Value', unit), column('Flag')],
    rows: periods.flatMap((period) =>
      period.points.map(({ label, value, flag }) => [
        text(period.name),
        text(label),
        number(value, 5),
        flag === '' ? empty('none') : text(flag),
      ]),
    ),
    notes: [...periods.map((period) => limitsNote(period, unit)), ...notes],
  });
}

/** Centre and limits of a period, and how many of its results are flagged. */
function limitsNote({ name, centre, warning, action, points }: ControlPeriod, unit: string): string {
  const limits = [
    ...(warning === null ? [] : [`warning ± ${Number(warning.toPrecision(3))}`]),
    ...(action === null ? [] : [`action ± ${Number(action.toPrecision(3))}`]),
  ];
  const lines = [`centre ${Number(centre.toPrecision(5))}`, ...limits].join(', ');
  const flagged = points.filter(({ flag }) => flag !== '').length;
  return `${name}: ${lines} ${unit}; ${flagged} of ${points.length} results flagged.`;
}
