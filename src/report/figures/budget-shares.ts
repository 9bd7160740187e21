import type { Budget, BudgetLine } from '../../uncertainty/budget.js';
import { column, number, text } from '../cells.js';
import type { Figure } from '../document.js';
import { axis, figureOf, plainLabel, tones } from './figure-style.js';

/** Lines drawn one by one; the rest are added up. */
const drawn = 12;

interface Bar {
  readonly label: string;
  readonly step: string;
  readonly share: number;
}

function barOf({ input, share }: BudgetLine): Bar {
  return { label: input.description, step: input.step, share };
}

function barsOf(budget: Budget): Bar[] {
  const sorted = [...budget.lines].sort((first, second) => second.share - first.share);
  const rest = sorted.slice(drawn);
  const bars = sorted.slice(0, drawn).map(barOf);
  if (rest.length === 0) return bars;
  const share = rest.reduce((sum, line) => sum + line.share, 0);
  return [...bars, { label: `${rest.length} others`, step: '', share }];
}

/**
 * Shares of the variance of a result by input quantity, the largest first.
 *
 * @param id identifier of the figure
 * @param caption caption
 * @param budget the budget; more than twelve inputs: the smallest are added up
 */
export function budgetShares(id: string, caption: string, budget: Budget): Figure {
  const bars = barsOf(budget);
  const places = bars.map((_, index) => bars.length - index);
  return figureOf({
    id,
    caption,
    height: 90 + 24 * bars.length,
    traces: [
      {
        type: 'bar',
        orientation: 'h',
        x: bars.map(({ share }) => 100 * share),
        y: places,
        width: 0.62,
        marker: { color: tones.middle, line: { color: tones.ink, width: 1 } },
        text: bars.map(({ share }) => `${(100 * share).toFixed(1)} %`),
        textposition: 'outside',
        cliponaxis: false,
        hoverinfo: 'skip',
      },
    ],
    layout: {
      margin: { l: 60, r: 50, t: 12, b: 48 },
      xaxis: axis('share of variance, %', { rangemode: 'tozero' }),
      yaxis: axis('', {
        tickvals: places,
        ticktext: bars.map(({ label, step }) => plainLabel(step === '' ? label : `${label} (${step})`)),
        ticks: '',
      }),
    },
    columns: [column('Quantity'), column('Step'), column('Share', '%')],
    rows: bars.map(({ label, step, share }) => [text(label), text(step), number(100 * share, 3)]),
  });
}
