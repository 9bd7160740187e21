import { fitLine } from '../../statistics/regression/line.js';
import { type MatrixEffect, matrixEffect } from '../../validation/selectivity/matrix-effect.js';
import type { EvaluatedStudy } from '../evaluate-study.js';
import { calibrationKey } from '../run-calibrations.js';
import { solutionKey } from '../study-index.js';
import { criterionFor } from './matrix-context.js';
import { driftAt } from './selectivity-study.js';

/** Matrix effect of one analyte in one sample solution, with the points behind the slopes. */
export interface AnalyteMatrixEffect {
  readonly analyte: string;
  readonly sample: string;
  readonly run: string;
  readonly unit: string;
  /** Signal ratios, drift taken off, in contents of the external calibration. */
  readonly points: readonly { readonly solution: string; readonly added: number; readonly found: number }[];
  readonly effect: MatrixEffect;
}

/** Fewer solutions than this leave a slope one degree of freedom. */
const leastSolutions = 4;

/** Slope of the standard additions against that of the external calibration of the same run, for every series and analyte. */
export function matrixEffectStudy(study: EvaluatedStudy): AnalyteMatrixEffect[] {
  const { records } = study.index;
  // Parts of a digestion hold part of its internal standard only: their signals do not compare with those of the standards.
  if (records.plan.internalStandard.mode === 'added to the digestion') return [];
  const bases = [...new Set(records.additions.map((a) => a.base))];
  return records.plan.analytes.flatMap(({ analyte, lineNm }) =>
    bases.flatMap((base) => {
      const rows = records.additions.filter((a) => a.base === base && a.analyte === analyte);
      const measured = rows.flatMap((row) =>
        (study.index.bySolution.get(solutionKey(row.solution, analyte, lineNm)) ?? []).map((m) => ({
          row,
          m,
        })),
      );
      return [...new Set(measured.map(({ m }) => m.run))].flatMap(
        (run) => effectOf(study, analyte, lineNm, base, run, measured) ?? [],
      );
    }),
  );
}

type Measured = readonly {
  readonly row: EvaluatedStudy['index']['records']['additions'][number];
  readonly m: EvaluatedStudy['index']['measured'][number];
}[];

function effectOf(
  study: EvaluatedStudy,
  analyte: string,
  lineNm: number,
  base: string,
  run: string,
  measured: Measured,
): AnalyteMatrixEffect | null {
  const calibration = study.index.calibrations.get(calibrationKey(run, analyte, lineNm));
  const series = measured
    .filter(({ m }) => m.run === run)
    .map(({ row, m }) => ({
      solution: row.solution,
      added: row.added,
      signal:
        m.meanRatio / driftAt(study, run, analyte, lineNm, m.position) -
        (calibration?.slope ?? 0) * feigned(study, row.solution, analyte, lineNm),
    }));
  const contents = new Set(series.map((s) => s.added));
  if (calibration === undefined || series.length < leastSolutions || contents.size < 3) return null;
  const additions = fitLine(
    series.map((s) => s.added),
    series.map((s) => s.signal),
  );
  if (additions.slope <= 0) return null;
  const { fit, slope, varianceSlope, degreesOfFreedom, intercept } = calibration;
  const { plan, dilutions } = study.index.records;
  const digestion = dilutions.find((d) => d.dilution === base)?.digestion ?? base;
  const sample = study.index.digestions.get(digestion)?.sample ?? base;
  return {
    analyte,
    sample,
    run,
    unit: plan.calibration.basis,
    points: series.map(({ solution, added, signal }) => ({
      solution,
      added,
      found: (signal - intercept) / slope,
    })),
    effect: matrixEffect(
      additions,
      { ...fit, slope, varianceSlope, degreesOfFreedom },
      {
        analyte,
        level: sample,
        criterion: criterionFor(plan, 'matrix effect', analyte, sample),
        rows: [
          { table: 'additions', keys: series.map((s) => `${s.solution}|${analyte}`) },
          {
            table: 'calibration',
            keys: fit.x.map((_, i) => `${run}|${calibration.points[i]?.solution ?? ''}|${analyte}`),
          },
        ],
      },
    ),
  };
}

/** Content that interferents added to the same solution feign; it would grow with the additions and change the slope. */
function feigned(study: EvaluatedStudy, solution: string, analyte: string, lineNm: number): number {
  const { additions, interference } = study.index.records;
  return interference
    .filter((k) => k.analyte === analyte && k.lineNm === lineNm)
    .reduce((sum, k) => {
      const added = additions.find((a) => a.solution === solution && a.analyte === k.interferent)?.added ?? 0;
      return sum + k.apparentPerUnit * added;
    }, 0);
}
