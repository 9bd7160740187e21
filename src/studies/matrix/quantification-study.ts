import {
  type QuantificationConfirmation,
  quantificationConfirmation,
} from '../../validation/detection/quantification-confirmation.js';
import type { EvaluatedStudy } from '../evaluate-study.js';
import { hasContent, resultRows, resultsOf } from './matrix-context.js';

/** Fewer digestions of a material than this confirm nothing. */
const leastDigestions = 6;

/**
 * Samples and reference materials whose content of an analyte lies between half and three times its limit of quantification,
 * each against the spread that is allowed there.
 */
export function confirmations(
  study: EvaluatedStudy,
  analyte: string,
  limit: number,
  targetRelative: number,
): QuantificationConfirmation[] {
  const { unit } = study.index.scopes.get(analyte)!;
  const digestionsPerResult = study.index.records.plan.resultRule.digestions;
  const materials = new Map(
    study.results
      .filter((r) => r.analyte === analyte && (r.kind === 'sample' || r.kind === 'reference'))
      .map((r) => [r.sample, r.kind] as const),
  );
  return [...materials].flatMap(([material, kind]) => {
    const results = resultsOf(study, analyte, kind, material);
    if (results.length < leastDigestions || !hasContent(results)) return [];
    const mean = results.reduce((sum, r) => sum + r.value, 0) / results.length;
    if (mean < limit / 2 || mean > 3 * limit) return [];
    const rows = resultRows(study, results);
    return [quantificationConfirmation(rows, { material, unit, limit, targetRelative, digestionsPerResult })];
  });
}
