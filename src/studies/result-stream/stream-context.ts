import { InputError } from '../../errors.js';
import type { StudyRecords } from '../../records/study-records.js';
import type { CalibrationRecord } from '../../records/tables/calibration.js';
import type { DigestionRecord } from '../../records/tables/digestions.js';
import type { DilutionRecord } from '../../records/tables/dilutions.js';
import { indexStudy, type StudyIndex } from '../study-index.js';
import { withoutExcludedRows } from '../without-excluded-rows.js';

/** What all runs of a stream share: the tables that are held whole, indexed once. */
export interface StreamContext {
  readonly records: StudyRecords;
  /** Index without a single reading. */
  readonly index: StudyIndex;
  readonly dilutions: ReadonlyMap<string, DilutionRecord>;
  readonly calibrationOf: ReadonlyMap<string, readonly CalibrationRecord[]>;
  /** Solutions of standard additions: they have no result here. */
  readonly additions: ReadonlySet<string>;
  /** Standards and dilutions whose rows are excluded: their readings serve nothing. */
  readonly excludedSolutions: ReadonlySet<string>;
}

/** @param records of a study; its readings are not looked at */
export function streamContext(records: StudyRecords): StreamContext {
  requireModesOfStream(records);
  const used = withoutExcludedRows({ ...records, readings: [] });
  const calibrationOf = new Map<string, CalibrationRecord[]>();
  for (const row of used.calibration) {
    const rows = calibrationOf.get(row.run);
    if (rows === undefined) calibrationOf.set(row.run, [row]);
    else rows.push(row);
  }
  return {
    records: used,
    index: indexStudy(used, []),
    dilutions: new Map(used.dilutions.map((row) => [row.dilution, row])),
    calibrationOf,
    additions: new Set(records.additions.map((row) => row.solution)),
    excludedSolutions: excludedSolutions(records, used),
  };
}

function excludedSolutions(records: StudyRecords, used: StudyRecords): ReadonlySet<string> {
  const left = { dilutions: new Set(used.dilutions), calibration: new Set(used.calibration) };
  return new Set([
    ...records.dilutions.filter((row) => !left.dilutions.has(row)).map((row) => row.dilution),
    ...records.calibration.filter((row) => !left.calibration.has(row)).map((row) => row.solution),
  ]);
}

/** The pass over runs knows what the plain ratio needs; anything else goes through `evaluateStudy`. */
function requireModesOfStream({ plan }: StudyRecords): void {
  if ((plan.recovery ?? []).length > 0) {
    throw new InputError(
      `study ${plan.study}: found "recovery" in its plan, which is taken from results of several runs; runs one after the other do without it`,
    );
  }
  const combined = plan.analytes.find((scope) => scope.secondLineShare !== undefined);
  if (combined !== undefined) {
    throw new InputError(
      `study ${plan.study}: found ${combined.analyte} made of two lines; runs one after the other need the own line alone`,
    );
  }
  const mode = plan.internalStandard.mode;
  if (mode === 'on line' && plan.calibration.basis === 'mg/kg') return;
  throw new InputError(
    `study ${plan.study}: found internal standard "${mode}" and calibration in ${plan.calibration.basis}; runs one after the other need "on line" and mg/kg`,
  );
}

/** The digestion a solution was made from, its own or by a dilution; none for standards and check solutions. */
export function digestionOf(context: StreamContext, solution: string): DigestionRecord | undefined {
  const { digestions } = context.index;
  return digestions.get(context.dilutions.get(solution)?.digestion ?? solution);
}
