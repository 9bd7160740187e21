import { netMassRelativeUncertainty } from '../../chain/balance.js';
import { contentOfRatio } from '../../chain/calibration.js';
import type { EquipmentRecord } from '../../records/study.js';
import type { StudyRecords } from '../../records/study-records.js';
import { type CheckSolution, checkSolution } from '../../validation/acceptance/check-solution.js';
import {
  type InternalStandardRecovery,
  internalStandardRecovery,
} from '../../validation/acceptance/internal-standard-recovery.js';
import { portionWeighing } from '../../validation/acceptance/portion-weighing.js';
import type { Finding } from '../../validation/finding.js';
import type { EvaluatedStudy } from '../evaluate-study.js';
import { calibrationKey, signalOfStandard } from '../run-calibrations.js';
import { criterionFor } from './matrix-context.js';

/** Check solutions of all runs against their nominal contents, by analyte; drift is not taken off. */
export function checkSolutionStudy(study: EvaluatedStudy): CheckSolution[] {
  const { records, checks, calibrations } = study.index;
  const { plan } = records;
  return plan.analytes.flatMap(({ analyte, lineNm }) => {
    const nominal = records.standards.find(
      (s) => s.name === plan.driftCheckSolution && s.analyte === analyte,
    );
    if (nominal === undefined) return [];
    const rows = [...checks.values()].flat().flatMap((m) => {
      const calibration = calibrations.get(calibrationKey(m.run, analyte, lineNm));
      if (m.analyte !== analyte || m.lineNm !== lineNm || calibration === undefined) return [];
      return [
        {
          key: `${m.run}|${m.position}`,
          run: m.run,
          position: m.position,
          found: contentOfRatio(calibration, signalOfStandard(plan, m.meanRatio, m.internalStandard)),
          nominal: nominal.value,
        },
      ];
    });
    if (rows.length === 0) return [];
    const criterion = criterionFor(plan, 'check solution', analyte, plan.driftCheckSolution);
    return [checkSolution(rows, { analyte, level: plan.driftCheckSolution, unit: nominal.unit, criterion })];
  });
}

/** Internal standard in every solution against the mean of the calibration solutions of its run. */
export function internalStandardStudy(study: EvaluatedStudy): InternalStandardRecovery | null {
  const { records, measured } = study.index;
  const { element, lineNm } = records.plan.internalStandard;
  const standards = new Set(records.calibration.map((c) => `${c.run}|${c.solution}`));
  // Every line of a solution carries the same internal-standard readings; the first one stands for the solution.
  const seen = new Map<string, { run: string; solution: string; position: number; value: number }>();
  for (const m of measured) {
    const key = `${m.run}|${m.position}`;
    if (m.internalStandard !== null && !seen.has(key)) {
      seen.set(key, { run: m.run, solution: m.solution, position: m.position, value: m.internalStandard });
    }
  }
  const solutions = [...seen.values()];
  const means = new Map<string, number>();
  for (const run of new Set(solutions.map((s) => s.run))) {
    const own = solutions
      .filter((s) => s.run === run && standards.has(`${run}|${s.solution}`))
      .map((s) => s.value);
    if (own.length > 0) means.set(run, own.reduce((a, b) => a + b, 0) / own.length);
  }
  const rows = solutions.flatMap((s) => {
    const mean = means.get(s.run);
    return mean === undefined ? [] : [{ key: internalStandardKey(s), run: s.run, recovery: s.value / mean }];
  });
  if (rows.length === 0) return null;
  const level = `${lineNm} nm`;
  const criterion = criterionFor(records.plan, 'internal standard recovery', element, level);
  return internalStandardRecovery(rows, { analyte: '*', level, criterion });
}

/** Names a solution at its place of its run among the recoveries. */
export function internalStandardKey(read: {
  readonly run: string;
  readonly position: number;
  readonly solution: string;
}): string {
  return `${read.run}|${read.position} (${read.solution})`;
}

/** Whether a balance weighs the nominal portion well enough. */
export function portionWeighingFinding(records: StudyRecords, equipment: EquipmentRecord): Finding {
  const { portionG } = records.plan.nominal;
  const loads = records.digestions.map((d) => d.crucibleWithPortionG);
  const load = loads.reduce((a, b) => a + b, 0) / loads.length;
  return portionWeighing({
    analyte: '*',
    level: equipment.id,
    criterion: criterionFor(records.plan, 'weighing of the portion', '*', equipment.id),
    balance: equipment.id,
    portionG,
    standardUncertaintyG: (netMassRelativeUncertainty(equipment.balance!, load, portionG) / 100) * portionG,
    rows: [{ table: 'equipment', keys: [equipment.id] }],
  });
}

/** The balances that portions of the study were weighed on. */
export function portionWeighingStudy(study: EvaluatedStudy): Finding[] {
  const { records } = study.index;
  const used = new Set(records.digestions.map((d) => d.portionBalance));
  return records.equipment
    .filter((e) => used.has(e.id) && e.balance !== undefined)
    .map((e) => portionWeighingFinding(records, e));
}
