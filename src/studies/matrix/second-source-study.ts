import {
  type SecondSource,
  type SecondSourceRow,
  secondSourceStandard,
} from '../../validation/trueness/second-source-standard.js';
import type { EvaluatedStudy } from '../evaluate-study.js';
import { stockOf } from '../stock-of-calibration.js';
import { criterionFor } from './matrix-context.js';
import { apparentContent } from './selectivity-study.js';

/** Second-source standard of one analyte, with what its figure needs. */
export interface AnalyteSecondSource {
  readonly analyte: string;
  readonly solution: string;
  readonly unit: string;
  readonly prepared: number;
  readonly preparedStandardUncertainty: number;
  readonly rows: readonly SecondSourceRow[];
  readonly comparison: SecondSource;
}

/**
 * The solution from a second source against the calibration, for every analyte that it holds: its first reading in each run,
 * which follows the standards, so that drift cannot be taken for a difference of the standards.
 */
export function secondSourceStudy(study: EvaluatedStudy): AnalyteSecondSource[] {
  const { records } = study.index;
  const { plan } = records;
  const solution = plan.secondSource?.solution;
  if (solution === undefined) return [];
  return plan.analytes.flatMap(({ analyte, lineNm }) => {
    const prepared = records.standards.find((s) => s.name === solution && s.analyte === analyte);
    const rows = firstReadings(study, solution, analyte, lineNm);
    if (prepared === undefined || rows.length === 0) return [];
    const stock = stockOf(
      records,
      study.index.bySolution.get(`${solution}|${analyte}|${lineNm}`)![0]!.run,
      analyte,
    );
    const preparedStandardUncertainty = prepared.expandedUncertainty / prepared.coverageFactor;
    const comparison = secondSourceStandard(rows, {
      analyte,
      level: solution,
      unit: prepared.unit,
      criterion: criterionFor(plan, 'second-source standard', analyte, solution),
      standard: solution,
      prepared: prepared.value,
      preparedStandardUncertainty,
      stockStandardUncertainty: stock.relativeStandardUncertainty * prepared.value,
    });
    return [
      {
        analyte,
        solution,
        unit: prepared.unit,
        prepared: prepared.value,
        preparedStandardUncertainty,
        rows,
        comparison,
      },
    ];
  });
}

function firstReadings(
  study: EvaluatedStudy,
  solution: string,
  analyte: string,
  lineNm: number,
): SecondSourceRow[] {
  const first = new Map<string, SecondSourceRow>();
  for (const m of study.index.bySolution.get(`${solution}|${analyte}|${lineNm}`) ?? []) {
    if (first.has(m.run)) continue;
    const value = apparentContent(study, m.run, analyte, lineNm, m.position, m.meanRatio);
    first.set(m.run, { key: `${m.run}|${m.position}`, run: m.run, value });
  }
  return [...first.values()];
}
