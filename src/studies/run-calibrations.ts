import { type Calibration, calibrate, poolCalibrations } from '../chain/calibration.js';
import { InputError } from '../errors.js';
import type { AnalyteScope, StudyPlan } from '../records/study.js';
import type { StudyRecords } from '../records/study-records.js';
import type { CalibrationRecord } from '../records/tables/calibration.js';
import type { MeasuredSolution } from './measured-solutions.js';

/** Calibrations of a study by `calibrationKey`. */
export type Calibrations = ReadonlyMap<string, Calibration>;

export function calibrationKey(run: string, analyte: string, lineNm: number): string {
  return `${run}|${analyte}|${lineNm}`;
}

/**
 * What the calibration is fitted on: the ratio, times the content of the internal standard where that is known from masses.
 * Standards and check solutions hold the dose of the plan.
 */
export function signalOfStandard(plan: StudyPlan, ratio: number, internalStandard: number | null): number {
  const { mode, doseMgPerKg } = plan.internalStandard;
  return mode === 'on line' || internalStandard === null ? ratio : ratio * doseMgPerKg;
}

/** Lines on which an analyte is measured: its own and, where planned, a second one. */
export function linesOf(scope: AnalyteScope): number[] {
  return scope.secondLineNm === undefined ? [scope.lineNm] : [scope.lineNm, scope.secondLineNm];
}

/** The analytes of a plan and the internal-standard element, which is calibrated where its native amount is looked for. */
export function calibratedScopes(plan: StudyPlan): AnalyteScope[] {
  const { element, lineNm, doseMgPerKg } = plan.internalStandard;
  const native: AnalyteScope = {
    analyte: element,
    lineNm,
    measuredIn: 'digestion',
    unit: 'mg/kg',
    signalFloorMgPerKg: doseMgPerKg * 1e-4,
    signalRelative: 0.01,
    lowestReported: doseMgPerKg * plan.internalStandard.nativeLimit,
  };
  return plan.analytes.some((scope) => scope.analyte === element)
    ? [...plan.analytes]
    : [...plan.analytes, native];
}

/** One calibration function for each run, analyte and line, their residual variance pooled over the runs. */
export function runCalibrations(records: StudyRecords, measured: readonly MeasuredSolution[]): Calibrations {
  const result = new Map<string, Calibration>();
  if (measured.length === 0) return result;
  const contents = new Map<string, CalibrationRecord>();
  for (const row of records.calibration) contents.set(`${row.run}|${row.solution}|${row.analyte}`, row);
  const byLine = new Map<string, MeasuredSolution[]>();
  for (const m of measured) {
    if (!contents.has(`${m.run}|${m.solution}|${m.analyte}`)) continue;
    const key = calibrationKey(m.run, m.analyte, m.lineNm);
    byLine.set(key, [...(byLine.get(key) ?? []), m]);
  }
  for (const scope of calibratedScopes(records.plan)) {
    for (const lineNm of linesOf(scope)) {
      const runs = [...byLine.values()].filter(
        (g) => g[0]!.analyte === scope.analyte && g[0]!.lineNm === lineNm,
      );
      const fits = runs.map((group) => calibrateRun(records.plan, scope, lineNm, group, contents));
      if (fits.length === 0) continue;
      for (const c of poolCalibrations(fits)) result.set(calibrationKey(c.run, c.analyte, c.lineNm), c);
    }
  }
  return result;
}

function calibrateRun(
  plan: StudyPlan,
  scope: AnalyteScope,
  lineNm: number,
  group: readonly MeasuredSolution[],
  contents: ReadonlyMap<string, CalibrationRecord>,
): Calibration {
  const points = group.map((m) => {
    const row = contents.get(`${m.run}|${m.solution}|${m.analyte}`)!;
    const content = plan.calibration.basis === 'mg/kg' ? row.massFractionMgPerKg : row.concentrationMgPerL;
    if (content === null) {
      throw new InputError(
        `calibration of ${m.analyte}, run ${m.run}, solution ${m.solution}: expected a content in ${plan.calibration.basis}`,
      );
    }
    return {
      solution: m.solution,
      content,
      preparationUncertainty: row.standardUncertainty,
      ratio: signalOfStandard(plan, m.meanRatio, m.internalStandard),
    };
  });
  return calibrate(
    group[0]!.run,
    scope.analyte,
    lineNm,
    points,
    {
      floor: scope.signalFloorMgPerKg,
      relative: scope.signalRelative,
    },
    plan.calibration.basis,
  );
}
