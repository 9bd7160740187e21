import type { Calibration } from '../../chain/calibration.js';
import {
  type ResidualDiagnostic,
  residualDiagnostics,
} from '../../statistics/regression/residual-diagnostics.js';
import {
  type CalibrationDiagnostics,
  calibrationDiagnostics,
} from '../../validation/calibration/calibration-diagnostics.js';
import type { EvaluatedStudy } from '../evaluate-study.js';

/** Diagnostics of one calibration function: of one analyte in one run. */
export interface RunDiagnostics {
  readonly analyte: string;
  readonly run: string;
  readonly diagnostics: CalibrationDiagnostics;
  readonly points: readonly (ResidualDiagnostic & {
    readonly solution: string;
    readonly content: number;
  })[];
}

/** Diagnostics of every calibration of every analyte on its own line; calibrations without scatter or with 3 points are left out. */
export function diagnosticsStudy(study: EvaluatedStudy): RunDiagnostics[] {
  const { records, calibrations } = study.index;
  return records.plan.analytes.flatMap(({ analyte, lineNm }) =>
    [...calibrations.values()]
      .filter((c) => c.analyte === analyte && c.lineNm === lineNm)
      .flatMap((c) => runDiagnostics(c)),
  );
}

function runDiagnostics(calibration: Calibration): RunDiagnostics[] {
  const { analyte, run, points, fit } = calibration;
  if (fit.degreesOfFreedom < 2 || fit.residualStandardDeviation === 0) return [];
  const diagnostics = calibrationDiagnostics(
    points.map((p) => p.content),
    points.map((p) => p.ratio),
    fit.weights,
  );
  const found = residualDiagnostics(diagnostics.fit);
  return [
    {
      analyte,
      run,
      diagnostics,
      points: points.map(({ solution, content }, i) => ({ solution, content, ...found[i]! })),
    },
  ];
}
