import { mean } from '../../statistics/descriptive/mean.js';
import {
  type ComparisonRow,
  type MethodComparison,
  methodComparison,
} from '../../validation/trueness/method-comparison.js';
import type { EvaluatedStudy } from '../evaluate-study.js';
import { criterionFor } from './matrix-context.js';

/** One sample by both methods, with the standard uncertainty that the other method states. */
export interface ComparedSample extends ComparisonRow {
  readonly referenceStandardUncertainty: number;
}

/** Comparison of one analyte with another method, with the samples behind it. */
export interface AnalyteComparison {
  readonly analyte: string;
  readonly method: string;
  readonly unit: string;
  readonly rows: readonly ComparedSample[];
  readonly comparison: MethodComparison;
}

/** Mean result of every sample that another method measured too, against that method's; spiked digestions are left out. */
export function comparisonStudy(study: EvaluatedStudy): AnalyteComparison[] {
  const { plan, comparison } = study.index.records;
  return plan.analytes.flatMap(({ analyte, unit }) => {
    const own = comparison.filter((c) => c.analyte === analyte);
    return [...new Set(own.map((c) => c.method))].flatMap((method) => {
      const rows = own
        .filter((c) => c.method === method)
        .flatMap((c): ComparedSample[] => {
          const results = study.results.flatMap((r) =>
            r.analyte === analyte &&
            r.sample === c.sample &&
            (r.kind === 'sample' || r.kind === 'reference') &&
            r.value !== null
              ? [r.value]
              : [],
          );
          const scale = c.unit === unit ? 1 : unit === 'mg/kg' ? 1e4 : 1e-4;
          return results.length === 0
            ? []
            : [
                {
                  key: `${c.sample}|${analyte}|${method}`,
                  reference: c.value * scale,
                  referenceStandardUncertainty: c.standardUncertainty * scale,
                  candidate: mean(results),
                },
              ];
        });
      if (rows.length < 2) return [];
      const criterion = criterionFor(plan, 'method comparison', analyte, method);
      const found = methodComparison(rows, {
        analyte,
        level: method,
        unit,
        criterion,
        referenceMethod: method,
      });
      return [{ analyte, method, unit, rows, comparison: found }];
    });
  });
}
