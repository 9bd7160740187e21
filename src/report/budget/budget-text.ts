import { formatSignificant, roundToUncertainty } from '../../quantities/rounding.js';
import type { Budget, BudgetLine } from '../../uncertainty/budget.js';
import type { InputQuantity } from '../../uncertainty/input-quantity.js';
import { type BudgetStep, budgetSteps } from './budget-steps.js';
import { distributionName } from './budget-table.js';

/** A row of the table; `below` stands on a line of its own. */
interface Row {
  readonly cells: readonly string[];
  readonly below: string;
}

const headings = ['quantity', 'estimate', 'u', 'unit', 'ν', 'distribution', 'c', '|c|·u', 'share %'];
const numeric = new Set([1, 2, 4, 6, 7, 8]);

/** Degrees of freedom: whole ones as they are, others to a tenth. */
export function degreesOfFreedomText(value: number): string {
  if (value === Infinity) return '∞';
  return Number.isInteger(value) ? String(value) : value.toFixed(1);
}

function estimateText({ estimate, standardUncertainty }: InputQuantity): string {
  if (!(standardUncertainty > 0)) return String(estimate);
  return roundToUncertainty(estimate, standardUncertainty).valueText;
}

function lineRow({ input, sensitivity, contribution, share }: BudgetLine): Row {
  const equipment = input.equipment === undefined ? '' : `; equipment ${input.equipment}`;
  const kind = input.source.startsWith(input.sourceKind) ? '' : `${input.sourceKind}: `;
  return {
    cells: [
      `  ${input.name}`,
      estimateText(input),
      formatSignificant(input.standardUncertainty, 2),
      input.unit === '1' ? '' : input.unit,
      degreesOfFreedomText(input.degreesOfFreedom),
      `${input.evaluation}, ${distributionName(input.distribution)}`,
      formatSignificant(sensitivity, 3),
      formatSignificant(contribution, 2),
      (100 * share).toFixed(1),
    ],
    below: `    ${input.description}; ${kind}${input.source}${equipment}`,
  };
}

function stepRows({ step, lines, contribution, share }: BudgetStep): Row[] {
  const total = ['', '', '', '', '', '', formatSignificant(contribution, 2), (100 * share).toFixed(1)];
  return [{ cells: [step, ...total], below: '' }, ...lines.map(lineRow)];
}

/**
 * A budget as lines of text for a terminal: by step with sub-totals; below each quantity what it is and where it comes from.
 *
 * @see JCGM 100:2008 (GUM), 7.1.4
 */
export function budgetText(budget: Budget): string[] {
  const head = headings.map((heading) => (heading === '|c|·u' ? `|c|·u ${budget.unit}` : heading));
  const rows = budgetSteps(budget).flatMap(stepRows);
  const widths = head.map((heading, i) =>
    Math.max(heading.length, ...rows.map(({ cells }) => (isStep(cells) && i === 0 ? 0 : cells[i]!.length))),
  );
  const line = (cells: readonly string[]): string =>
    cells
      .map((cell, i) => (numeric.has(i) ? cell.padStart(widths[i]!) : cell.padEnd(widths[i]!)))
      .join('  ')
      .trimEnd();
  const rule = '─'.repeat(widths.reduce((sum, width) => sum + width + 2, -2));
  return [
    line(head),
    rule,
    ...rows.flatMap(({ cells, below }) => [
      isStep(cells) ? stepLine(cells, widths) : line(cells),
      ...(below === '' ? [] : [below]),
    ]),
    rule,
  ];
}

function isStep(cells: readonly string[]): boolean {
  return !cells[0]!.startsWith(' ');
}

/** The name of a step may run on over the empty cells behind it. */
function stepLine(cells: readonly string[], widths: readonly number[]): string {
  const before = widths.slice(0, 7).reduce((sum, width) => sum + width + 2, 0);
  return cells[0]!.padEnd(before) + [7, 8].map((i) => cells[i]!.padStart(widths[i]!)).join('  ');
}
