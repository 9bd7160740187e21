import type { SourceFile } from '../../records/decoded-study.js';
import type {
  MeasurementEvaluation,
  OutputEvaluation,
} from '../../studies/measurement/evaluate-measurement.js';
import { improvementSentence } from '../budget/improvement-sentence.js';
import { targetSentence } from '../budget/target-sentence.js';
import { column, number, numberOr, text, verdictCell } from '../cells.js';
import type { Block, Cell, ReportDocument, Section, Table } from '../document.js';
import { budgetShares } from '../figures/budget-shares.js';
import { listOf, paragraph, sectionOf } from '../section-of.js';
import { modelBlocks } from '../sections/budget-section.js';
import { type Provenance, provenanceSection } from '../sections/provenance-section.js';
import { recordsSection } from '../sections/records-section.js';

/** What the report on a budget says beside the calculation. */
export interface BudgetReportContext {
  readonly file: SourceFile;
  readonly provenance: Provenance;
}

/**
 * Report on a measurement evaluated from a budget file: results first, then what they rest on.
 *
 * @see JCGM 100:2008 (GUM), clause 7
 */
export function budgetReport(
  evaluation: MeasurementEvaluation,
  context: BudgetReportContext,
): ReportDocument {
  const { propagation, outputs, notes } = evaluation;
  return {
    title: propagation.model.title,
    subtitle: 'Uncertainty budget',
    banner: '',
    facts: [
      { name: 'Budget file', value: context.file.file },
      { name: 'Coverage probability', value: `${100 * (outputs[0]?.budget.coverageProbability ?? 0)} %` },
    ],
    sections: [
      sectionOf({ id: 'results', heading: 'Results', blocks: [resultsTable(outputs)] }),
      sectionOf({
        id: 'model',
        heading: 'Measurement model',
        blocks: [...modelBlocks('model/equations', propagation.model), ...listOf(notes)],
      }),
      ...outputs.map(outputSection),
      recordsSection([context.file], []),
      provenanceSection(context.provenance),
    ],
    data: evaluation,
  };
}

function resultsTable(outputs: readonly OutputEvaluation[]): Table {
  return {
    kind: 'table',
    id: 'results/table',
    caption: 'Results, with the verdict on the target uncertainty',
    columns: ['Quantity', 'Result', 'u', 'k', 'Degrees of freedom', 'Target for U', 'Verdict'].map(
      (heading) => column(heading),
    ),
    rows: outputs.map(({ budget, reported, target }): Cell[] => [
      text(budget.description, `output/${budget.output}`),
      text(reported === null ? `${budget.output} = ${budget.estimate}` : reported.result),
      number(budget.standardUncertainty, 2),
      number(budget.coverageFactor, 3),
      number(budget.effectiveDegreesOfFreedom, 3),
      numberOr(target?.target ?? null, 4, 'none set'),
      verdictCell(target === null ? 'no criterion' : target.met ? 'met' : 'not met'),
    ]),
    notes: outputs.flatMap(({ reported }) => (reported === null ? [] : [reported.basis])),
  };
}

function outputSection(evaluation: OutputEvaluation): Section {
  const { budget, secondOrder, target } = evaluation;
  const id = `output/${budget.output}`;
  const caption = `Budget of ${budget.output}, ${budget.description}`;
  return sectionOf({
    id,
    heading: `${budget.output}: ${budget.description}`,
    blocks: [
      { kind: 'budget', id: `${id}/budget`, caption, budget, target: target?.target ?? null },
      budgetShares(`${id}/shares`, `${caption}: shares of the variance`, budget),
      paragraph(secondOrder.statement),
      ...(target === null ? [] : [paragraph(targetSentence(budget, target))]),
      ...improvementBlocks(evaluation),
    ],
  });
}

function improvementBlocks({ budget, improvement }: OutputEvaluation): Block[] {
  if (improvement === null) return [];
  const unit = budget.unit === '1' ? '' : ` ${budget.unit}`;
  return [
    paragraph('What it would take to meet the target, by one input alone, the most effective first:'),
    ...listOf(improvement.single.slice(0, 5).map((single) => improvementSentence(single, unit))),
  ];
}
