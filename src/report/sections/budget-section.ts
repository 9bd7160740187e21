import type { Budget } from '../../uncertainty/budget.js';
import type { MeasurementModel } from '../../uncertainty/measurement-model.js';
import { column, text } from '../cells.js';
import type { Block, Section } from '../document.js';
import { budgetShares } from '../figures/budget-shares.js';
import { paragraph, sectionOf } from '../section-of.js';

/** One budget of a section. */
export interface BudgetEntry {
  /** Stable identifier, such as `budget/Al/low`. */
  readonly id: string;
  readonly caption: string;
  readonly budget: Budget;
  /** Largest expanded uncertainty allowed, in the unit of the output; `null` where none is set. */
  readonly target: number | null;
}

/**
 * Equations of a measurement model, each typeset, and a table that says what their names stand for.
 *
 * @param id identifier of the table
 */
export function modelBlocks(id: string, model: MeasurementModel): Block[] {
  return [
    ...model.equations.map(
      ({ name, expression, unit }): Block => ({ kind: 'equation', name, expression, unit }),
    ),
    {
      kind: 'table',
      id,
      caption: `${model.title}: quantities calculated`,
      columns: [column('Name'), column('Quantity'), column('Unit')],
      rows: model.equations.map(({ name, description, unit }) => [text(name), text(description), text(unit)]),
      notes: [],
    },
  ];
}

/**
 * Uncertainty budgets: the model, then for each result the budget by step with sub-totals and the shares as a figure.
 *
 * @param parts `introduction` says which route counts random parts; `model` is `null` where budgets have none in common
 * @see ISO/IEC 17025:2017, 7.6; JCGM 100:2008 (GUM), 7
 */
export function budgetSection(parts: {
  readonly introduction: string;
  readonly model: MeasurementModel | null;
  readonly entries: readonly BudgetEntry[];
}): Section {
  return sectionOf({
    id: 'budgets',
    heading: 'Uncertainty budgets',
    clause: 'ISO/IEC 17025:2017, 7.6',
    blocks: [
      paragraph(parts.introduction),
      ...(parts.model === null ? [] : modelBlocks('budgets/model', parts.model)),
    ],
    sections: parts.entries.map(({ id, caption, budget, target }) =>
      sectionOf({
        id,
        heading: caption,
        blocks: [
          { kind: 'budget', id: `${id}/lines`, caption, budget, target },
          budgetShares(`${id}/shares`, `${caption}: shares of the variance`, budget),
        ],
      }),
    ),
  });
}
