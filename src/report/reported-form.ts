import type { AnalyteScope } from '../records/study.js';

/** What of a plan says how results are reported. */
interface FormsOfResults {
  readonly analytes: readonly Pick<AnalyteScope, 'analyte' | 'oxide'>[];
}

/**
 * An analyte as its results are reported: the oxide where the plan names one, else the element. A figure in g/100 g under the
 * symbol of the element would be read as a content of the element.
 *
 * @example
 * reportedForm({ analytes: [{ analyte: 'Zr', oxide: 'ZrO2' }] }, 'Zr') // => "ZrO2"
 */
export function reportedForm({ analytes }: FormsOfResults, analyte: string): string {
  return analytes.find((scope) => scope.analyte === analyte)?.oxide ?? analyte;
}

/** Rows for a reader, each under the form that is reported; data files keep the symbol, which the records go by. */
export function inReportedForm<T extends { readonly analyte: string }>(
  plan: FormsOfResults,
  rows: readonly T[],
): T[] {
  return rows.map((row) => ({ ...row, analyte: reportedForm(plan, row.analyte) }));
}
