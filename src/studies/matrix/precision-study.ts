import type { Precision } from '../../validation/precision/precision.js';
import { precision } from '../../validation/precision/precision.js';
import type { ResultRow } from '../../validation/result-row.js';
import type { EvaluatedStudy } from '../evaluate-study.js';
import { criterionFor, hasContent, resultRows, resultsOf } from './matrix-context.js';

/** Precision of one analyte at one level with the results behind it. */
export interface LevelPrecision {
  readonly analyte: string;
  readonly level: string;
  readonly sample: string;
  readonly unit: string;
  readonly rows: readonly ResultRow[];
  readonly precision: Precision;
}

/** Precision at every level of every analyte that has results on at least two days and a mean above 0. */
export function precisionStudy(study: EvaluatedStudy): LevelPrecision[] {
  const { plan } = study.index.records;
  return plan.analytes.flatMap(({ analyte, unit }) =>
    plan.levels.flatMap(({ level, sample }) => {
      const rows = resultRows(study, resultsOf(study, analyte, 'sample', sample));
      if (!repeatedOverDays(rows) || !hasContent(rows)) return [];
      const result = precision(rows, {
        analyte,
        level,
        unit,
        digestionsPerResult: plan.resultRule.digestions,
        repeatabilityCriterion: criterionFor(plan, 'repeatability', analyte, level),
        intermediateCriterion: criterionFor(plan, 'intermediate precision', analyte, level),
      });
      return [{ analyte, level, sample, unit, rows, precision: result }];
    }),
  );
}

/** Whether there are two days at least, one of them with two results. */
export function repeatedOverDays(rows: readonly ResultRow[]): boolean {
  const counts = new Map<string, number>();
  for (const row of rows) counts.set(row.day, (counts.get(row.day) ?? 0) + 1);
  return counts.size > 1 && [...counts.values()].some((n) => n > 1);
}
