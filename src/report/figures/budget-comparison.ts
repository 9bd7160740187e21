import type { Budget } from '../../uncertainty/budget.js';
import { column, number, text } from '../cells.js';
import type { Figure } from '../document.js';
import { axis, figureOf, plainLabel, tones } from './figure-style.js';

/** Pairs drawn; those whose larger contribution is smaller are left to the table. */
const drawn = 12;

interface Pair {
  readonly name: string;
  readonly label: string;
  readonly before: number;
  readonly after: number;
}

function pairsOf(before: Budget, after: Budget): Pair[] {
  const names = new Set([...before.lines, ...after.lines].map(({ input }) => input.name));
  return [...names]
    .map((name) => {
      const old = before.lines.find(({ input }) => input.name === name);
      const now = after.lines.find(({ input }) => input.name === name);
      const label = (now ?? old)?.input.description ?? name;
      return { name, label, before: old?.contribution ?? 0, after: now?.contribution ?? 0 };
    })
    .sort((first, second) => Math.max(second.before, second.after) - Math.max(first.before, first.after));
}

function trace(
  name: string,
  x: number[],
  y: number[],
  marker: Record<string, unknown>,
): Record<string, unknown> {
  const outline = { color: tones.ink, width: 1 };
  return {
    type: 'bar',
    orientation: 'h',
    name,
    showlegend: true,
    x,
    y,
    marker: { ...marker, line: outline },
    hovertemplate: '%{x:.3g}<extra></extra>',
  };
}

/**
 * Contributions to the standard uncertainty of one result before and after a change, the largest first.
 *
 * @param id identifier of the figure
 * @param caption caption
 * @param before budget before the change
 * @param after budget after it; inputs are matched by name, one that is missing counts as zero
 */
export function budgetComparison(id: string, caption: string, before: Budget, after: Budget): Figure {
  const pairs = pairsOf(before, after);
  const shown = pairs.slice(0, drawn);
  const places = shown.map((_, index) => shown.length - index);
  const solid = { color: tones.ink };
  const hatched = {
    color: tones.ground,
    pattern: { shape: '/', fgcolor: tones.ink, size: 6, solidity: 0.25 },
  };
  return figureOf({
    id,
    caption,
    height: 110 + 34 * shown.length,
    traces: [
      trace(
        'after',
        shown.map((pair) => pair.after),
        places,
        solid,
      ),
      trace(
        'before',
        shown.map((pair) => pair.before),
        places,
        hatched,
      ),
    ],
    layout: {
      barmode: 'group',
      bargap: 0.28,
      legend: { orientation: 'h', x: 0, xanchor: 'left', y: 1, yanchor: 'bottom', traceorder: 'reversed' },
      xaxis: axis(`contribution to u, ${after.unit}`, { rangemode: 'tozero' }),
      yaxis: axis('', { tickvals: places, ticktext: shown.map(({ label }) => plainLabel(label)), ticks: '' }),
    },
    columns: [
      column('Quantity'),
      column('Description'),
      column('Before', after.unit),
      column('After', after.unit),
      column('Difference', after.unit),
    ],
    rows: pairs.map(({ name, label, before: old, after: now }) => [
      text(name),
      text(label),
      number(old, 3),
      number(now, 3),
      number(now - old, 3),
    ]),
    notes: pairs.length > drawn ? [`The ${drawn} largest of ${pairs.length} are drawn.`] : [],
  });
}
