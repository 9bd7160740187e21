import type { StudyRecords } from '../../../src/records/study-records.js';

/** The same readings as if the chosen digestions had been read the next day, in a run with the same standards and check solutions. */
export function twoRuns(
  records: StudyRecords,
  second: (row: StudyRecords['digestions'][number]) => boolean,
): { readonly records: StudyRecords; readonly last: number } {
  const digestions = new Set(records.digestions.filter(second).map((d) => d.digestion));
  const solutions = new Set([
    ...digestions,
    ...records.dilutions.filter((d) => digestions.has(d.digestion)).map((d) => d.dilution),
  ]);
  const common = new Set([...records.calibration.map((c) => c.solution), records.plan.driftCheckSolution]);
  const later = records.readings
    .filter((r) => common.has(r.solution) || solutions.has(r.solution))
    .map((r) => ({ ...r, run: 'R-R2', time: r.time.replace('2026-04-14', '2026-04-15') }));
  const checks = later.filter((r) => r.solution === records.plan.driftCheckSolution);
  return {
    last: Math.max(...checks.map((r) => r.position)),
    records: {
      ...records,
      readings: [...records.readings.filter((r) => !solutions.has(r.solution)), ...later],
      calibration: [...records.calibration, ...records.calibration.map((c) => ({ ...c, run: 'R-R2' }))],
    },
  };
}
