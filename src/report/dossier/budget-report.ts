import type { SourceFile } from '../../records/decoded-study.js';
import type { MeasurementEvaluation } from '../../studies/measurement/evaluate-measurement.js';
import type { ReportDocument } from '../document.js';
import { measurementSections } from '../sections/measurement-sections.js';
import { type Provenance, provenanceSection } from '../sections/provenance-section.js';
import { recordsSection } from '../sections/records-section.js';

/** What the report on a budget says beside the calculation. */
export interface BudgetReportContext {
  readonly file: SourceFile;
  /** What the file says of its figures, empty where it says nothing. */
  readonly remark: string;
  readonly provenance: Provenance;
}

/**
 * Report on a measurement evaluated from a budget file: results first, then what they rest on.
 *
 * @see JCGM 100:2008 (GUM), clause 7
 */
export function budgetReport(
  evaluation: MeasurementEvaluation,
  { file, remark, provenance }: BudgetReportContext,
): ReportDocument {
  const probability = evaluation.outputs[0]?.budget.coverageProbability ?? 0.95;
  return {
    title: evaluation.propagation.model.title,
    subtitle: remark,
    banner: '',
    facts: [
      { name: 'Budget file', value: file.file },
      { name: 'Coverage probability', value: `${Number((100 * probability).toPrecision(6))} %` },
    ],
    sections: [...measurementSections(evaluation), recordsSection([file], []), provenanceSection(provenance)],
    data: evaluation,
  };
}
