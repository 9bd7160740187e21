import type {
  MeasurementEvaluation,
  OutputEvaluation,
} from '../../studies/measurement/evaluate-measurement.js';
import type { Budget } from '../../uncertainty/budget.js';
import type { ActionOutcome } from '../../uncertainty/what-would-it-take.js';
import { improvementSentence } from '../budget/improvement-sentence.js';
import { withoutSilentLines } from '../budget/silent-lines.js';
import { simulationSentence } from '../budget/simulation-sentences.js';
import { targetSentence } from '../budget/target-sentence.js';
import { column, number, numberOr, text, verdictCell } from '../cells.js';
import type { Block, Cell, Section, Table } from '../document.js';
import { budgetShares } from '../figures/budget-shares.js';
import { simulationHistogram } from '../figures/simulation-histogram.js';
import { listOf, paragraph, sectionOf } from '../section-of.js';
import { modelBlocks } from './budget-section.js';

/**
 * What is found for a measurement: results by both methods with the verdicts first, the model, then each output with its
 * budget, figures and what it would take.
 *
 * @see JCGM 100:2008 (GUM), clause 7; JCGM 101:2008, clause 8
 */
export function measurementSections(evaluation: MeasurementEvaluation): Section[] {
  const { propagation, outputs, simulation } = evaluation;
  const notes = [...(simulation?.notes ?? []), ...evaluation.notes];
  return [
    sectionOf({
      id: 'results',
      heading: 'Results',
      blocks: [
        resultsTable(outputs),
        ...(simulation === null ? [] : [paragraph(simulationSentence(simulation))]),
        ...outputs.flatMap(verdictBlocks),
      ],
    }),
    sectionOf({
      id: 'model',
      heading: 'Measurement model',
      blocks: [...modelBlocks('model/equations', propagation.model), ...listOf(notes)],
    }),
    ...outputs.map(outputSection),
  ];
}

/** One row an output and method. */
function resultsTable(outputs: readonly OutputEvaluation[]): Table {
  return {
    kind: 'table',
    id: 'results/table',
    caption: 'Results by both methods',
    columns: ['Quantity', 'Method', 'Unit', 'Estimate', 'u', 'Lower end', 'Upper end'].map((heading) =>
      column(heading),
    ),
    rows: outputs.flatMap(resultRows),
    notes: outputs.flatMap(({ reported }) =>
      reported === null ? [] : [`${reported.result}. ${reported.basis}`],
    ),
    groupedBy: 0,
  };
}

function resultRows({ budget, secondOrder, simulated }: OutputEvaluation): Cell[][] {
  const { estimate, standardUncertainty: u, expandedUncertainty: U, unit } = budget;
  const digits = digitsFor(estimate, U);
  const row = (method: string, y: number, uy: number | null, low: number, high: number): Cell[] => [
    text(`${budget.output}: ${budget.description}`, `output/${budget.output}`),
    text(method),
    text(unit === '1' ? '' : unit),
    number(y, digits),
    numberOr(uy, 3, 'none exists'),
    number(low, digits),
    number(high, digits),
  ];
  const second = secondOrder.matters ? secondOrder.terms : null;
  const k = budget.coverageFactor;
  return [
    row('law of propagation, estimate ± U', estimate, u, estimate - U, estimate + U),
    ...(second === null
      ? []
      : [second.estimate + second.meanShift].map((mean) =>
          row(
            'the same with second-order terms',
            mean,
            second.standardUncertainty,
            mean - k * second.standardUncertainty,
            mean + k * second.standardUncertainty,
          ),
        )),
    ...(simulated === null
      ? []
      : [
          row(
            'simulation, interval symmetric in probability',
            simulated.estimate,
            simulated.standardUncertainty,
            simulated.symmetric.low,
            simulated.symmetric.high,
          ),
          row(
            'simulation, shortest interval',
            simulated.estimate,
            simulated.standardUncertainty,
            simulated.shortest.low,
            simulated.shortest.high,
          ),
        ]),
  ];
}

/** Significant digits of an estimate that reach a hundredth of its expanded uncertainty. */
function digitsFor(estimate: number, expandedUncertainty: number): number {
  if (!(expandedUncertainty > 0) || estimate === 0) return 4;
  const ratio = Math.log10(Math.abs(estimate) / expandedUncertainty);
  return Math.min(15, Math.max(3, Math.ceil(ratio) + 3));
}

/** Agreement of the methods, reasons where they differ, and the verdict on the target. */
function verdictBlocks({ budget, comparison, target }: OutputEvaluation): Block[] {
  return [
    ...(comparison === null ? [] : [paragraph(`${budget.output}: ${comparison.statement}`)]),
    ...listOf((comparison?.reasons ?? []).map((reason) => `Likely reason: ${reason}`)),
    ...(target === null ? [] : [paragraph(targetSentence(budget, target))]),
  ];
}

function outputSection(evaluation: OutputEvaluation): Section {
  const { secondOrder, simulated, target } = evaluation;
  const budget = withoutSilentLines(evaluation.budget, secondOrder);
  // Where the simulation stands, its verdict stands with the results and not beside this U.
  const shownTarget = target === null || target.method === 'simulation' ? null : target.target;
  const id = `output/${budget.output}`;
  const caption = `Budget of ${budget.output}, ${budget.description}`;
  return sectionOf({
    id,
    heading: `${budget.output}: ${budget.description}`,
    blocks: [
      { kind: 'budget', id: `${id}/budget`, caption, budget, target: shownTarget },
      budgetShares(`${id}/shares`, `${caption}: shares of the variance`, budget),
      paragraph(secondOrder.statement),
      ...(simulated === null
        ? []
        : [
            simulationHistogram(
              `${id}/histogram`,
              `Simulated values of ${budget.output}, ${budget.description}`,
              budget,
              simulated,
            ),
            ...listOf(simulated.notes),
          ]),
      ...improvementBlocks(evaluation),
    ],
  });
}

function improvementBlocks({ budget, improvement }: OutputEvaluation): Block[] {
  if (improvement === null) return [];
  const { target, single, actions } = improvement;
  const unit = budget.unit === '1' ? '' : ` ${budget.unit}`;
  return [
    paragraph(
      `What it would take to bring U of ${budget.output} to ${target}${unit} by the law of propagation, by one input alone, the most effective first:`,
    ),
    ...listOf(single.slice(0, 5).map((improvement) => improvementSentence(improvement, unit))),
    ...(actions.length === 0 ? [] : [actionTable(budget, actions)]),
  ];
}

function actionTable(budget: Budget, actions: readonly ActionOutcome[]): Table {
  return {
    kind: 'table',
    id: `output/${budget.output}/actions`,
    caption: `What the laboratory could do about ${budget.output}, ${budget.description}`,
    columns: [
      column('Action'),
      column('u after it', budget.unit),
      column('U after it', budget.unit),
      column('Target'),
    ],
    rows: actions.map(({ name, standardUncertainty, expandedUncertainty, meetsTarget }): Cell[] => [
      text(name),
      number(standardUncertainty, 2),
      number(expandedUncertainty, 2),
      verdictCell(meetsTarget ? 'met' : 'not met'),
    ]),
    notes: [],
  };
}
