import { normalDensity } from '../../statistics/distributions/normal.js';
import { studentTDensity } from '../../statistics/distributions/student-t.js';
import type { Budget } from '../../uncertainty/budget.js';
import type { SimulatedOutput } from '../../uncertainty/simulation/simulation.js';
import { column, countCell, number } from '../cells.js';
import type { Figure } from '../document.js';
import { axis, figureOf, levelLine, tones } from './figure-style.js';

/**
 * Histogram of the simulated values of one output as a density, with the normal or t distribution that the law of
 * propagation stands for, and both coverage intervals.
 *
 * @param id identifier of the figure
 * @param caption caption
 * @see JCGM 101:2008, Figures 6 to 17 (such comparisons)
 */
export function simulationHistogram(
  id: string,
  caption: string,
  budget: Budget,
  { histogram, symmetric }: SimulatedOutput,
): Figure {
  const { edges, counts, below, above } = histogram;
  const trials = counts.reduce((sum, count) => sum + count, below + above);
  const cells = counts.map((count, i) => {
    const [low, high] = [edges[i]!, edges[i + 1]!];
    return {
      low,
      high,
      middle: (low + high) / 2,
      count,
      density: high > low ? count / (trials * (high - low)) : 0,
    };
  });
  const curve = curveOf(budget);
  const unit = budget.unit === '1' ? '' : `, ${budget.unit}`;
  const [lower, upper] = [
    budget.estimate - budget.expandedUncertainty,
    budget.estimate + budget.expandedUncertainty,
  ];
  return figureOf({
    id,
    caption,
    height: 340,
    traces: [
      {
        type: 'bar',
        name: 'simulation',
        showlegend: true,
        x: cells.map(({ middle }) => middle),
        y: cells.map(({ density }) => density),
        width: cells.map(({ low, high }) => high - low),
        marker: { color: tones.light, line: { color: tones.middle, width: 0.5 } },
        hoverinfo: 'skip',
      },
      ...(curve === null
        ? []
        : [
            lineTrace(
              'law of propagation',
              curvePoints(edges).map((x) => [x, curve(x)] as const),
              'dash',
            ),
          ]),
      lineTrace('interval of the simulation', [], 'solid'),
      ...(curve === null ? [] : [lineTrace('interval of the law of propagation', [], 'dash')]),
    ],
    layout: {
      bargap: 0,
      xaxis: axis(`${budget.description}${unit}`),
      yaxis: axis('probability density', { rangemode: 'tozero' }),
      shapes: [
        ...[symmetric.low, symmetric.high].map((at) => levelLine('up', at, 'solid')),
        ...(curve === null ? [] : [lower, upper].map((at) => levelLine('up', at, 'dash'))),
      ].map((shape) => ({ ...shape, layer: 'above' })),
    },
    columns: [
      column('From', budget.unit),
      column('To', budget.unit),
      column('Trials'),
      column('Density of the simulation'),
      ...(curve === null ? [] : [column('Density by the law of propagation, at the middle')]),
    ],
    rows: cells.map(({ low, high, middle, count, density }) => [
      number(low, 6),
      number(high, 6),
      countCell(count),
      number(density, 3),
      ...(curve === null ? [] : [number(curve(middle), 3)]),
    ]),
    notes: [
      `Vertical lines: ends of the intervals. ${below} trials lie below the first cell and ${above} above the last.`,
    ],
  });
}

/** Density that the law of propagation stands for; `null` where its standard uncertainty is 0. */
function curveOf({
  estimate,
  standardUncertainty: u,
  effectiveDegreesOfFreedom: nu,
}: Budget): ((x: number) => number) | null {
  if (u === 0) return null;
  return (x) => {
    const t = (x - estimate) / u;
    return (nu === Infinity ? normalDensity(t) : studentTDensity(t, nu)) / u;
  };
}

function curvePoints(edges: readonly number[]): number[] {
  const [low, high] = [edges[0]!, edges.at(-1)!];
  return Array.from({ length: 161 }, (_, i) => low + (i / 160) * (high - low));
}

function lineTrace(
  name: string,
  points: readonly (readonly [number, number])[],
  dash: string,
): Record<string, unknown> {
  return {
    type: 'scatter',
    mode: 'lines',
    name,
    showlegend: true,
    x: points.length === 0 ? [null] : points.map(([x]) => x),
    y: points.length === 0 ? [null] : points.map(([, y]) => y),
    line: { color: tones.ink, width: name.startsWith('interval') ? 1.2 : 2, dash },
    hoverinfo: 'skip',
  };
}
