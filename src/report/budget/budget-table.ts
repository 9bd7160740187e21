import type { Budget, BudgetLine } from '../../uncertainty/budget.js';
import type { Distribution } from '../../uncertainty/input-quantity.js';
import { number, text } from '../cells.js';
import type { Cell, Column, Table } from '../document.js';

/** Name of a distribution for readers, with the parameter that the standard uncertainty does not hold. */
export function distributionName(distribution: Distribution): string {
  if (distribution.kind === 'gamma from counts') return `gamma (${distribution.counts} counts)`;
  if (distribution.kind === 'sample') return `sample (${distribution.values.length} values)`;
  return distribution.kind;
}

function columns(unit: string): Column[] {
  return [
    { heading: 'step', unit: '' },
    { heading: 'quantity', unit: '' },
    { heading: 'description', unit: '' },
    { heading: 'estimate', unit: '' },
    { heading: 'standard uncertainty', unit: '' },
    { heading: 'unit', unit: '' },
    { heading: 'evaluation', unit: '' },
    { heading: 'degrees of freedom', unit: '' },
    { heading: 'distribution', unit: '' },
    { heading: 'sensitivity coefficient', unit: '' },
    { heading: 'contribution', unit },
    { heading: 'share of variance', unit: '%' },
    { heading: 'source', unit: '' },
    { heading: 'equipment', unit: '' },
  ];
}

function row({ input, sensitivity, contribution, share }: BudgetLine): Cell[] {
  return [
    text(input.step),
    text(input.name),
    text(input.description),
    number(input.estimate, 6),
    number(input.standardUncertainty, 3),
    text(input.unit),
    text(input.evaluation),
    number(input.degreesOfFreedom, 3),
    text(distributionName(input.distribution)),
    number(sensitivity, 4),
    number(contribution, 3),
    number(100 * share, 3),
    text(input.source),
    text(input.equipment ?? ''),
  ];
}

/**
 * A budget as a plain table, one row an input quantity: the form for CSV files and spreadsheets.
 *
 * @param budget lines keep their order
 * @param id identifier of the table
 * @param caption caption of the table
 * @returns fourteen columns from step to equipment
 * @see JCGM 100:2008 (GUM), 7.1.4
 */
export function budgetTable(budget: Budget, id: string, caption: string): Table {
  return {
    kind: 'table',
    id,
    caption,
    columns: columns(budget.unit),
    rows: budget.lines.map(row),
    notes: budget.notes,
    groupedBy: 0,
  };
}
