import type { Balance } from '../chain/balance.js';
import type { AnalyteScope, EquipmentRecord } from '../records/study.js';
import type { StudyRecords } from '../records/study-records.js';
import type { DigestionRecord } from '../records/tables/digestions.js';
import type { DilutionRecord } from '../records/tables/dilutions.js';
import { type MeasuredSolution, type PooledReading, pooledReading } from './measured-solutions.js';
import type { StudyRecovery } from './recovery/study-recovery.js';
import { type Calibrations, calibratedScopes, calibrationKey, runCalibrations } from './run-calibrations.js';

/** A study's records indexed for the chain: what every job starts from. */
export interface StudyIndex {
  readonly records: StudyRecords;
  readonly measured: readonly MeasuredSolution[];
  readonly calibrations: Calibrations;
  readonly digestions: ReadonlyMap<string, DigestionRecord>;
  readonly dilutionsOf: ReadonlyMap<string, readonly DilutionRecord[]>;
  readonly balances: ReadonlyMap<string, Balance>;
  readonly scopes: ReadonlyMap<string, AnalyteScope>;
  /** Measured solutions by solution, analyte and line, in order of time. */
  readonly bySolution: ReadonlyMap<string, readonly MeasuredSolution[]>;
  /** Check solutions by run, analyte and line, in order of place. */
  readonly checks: ReadonlyMap<string, readonly MeasuredSolution[]>;
  /** Pooled reading scatter by sample (or check solution), analyte and line. */
  readonly readingScatter: ReadonlyMap<string, PooledReading>;
  /** Digestions left out whole, and for single analytes as `digestion|analyte`. */
  readonly excluded: ReadonlySet<string>;
  readonly spectrometer: string;
  /** Recoveries that results are divided by; absent where there are none, or none yet. */
  readonly recoveries?: ReadonlyMap<string, StudyRecovery>;
}

/** Key of the readings of one solution on one line. */
export const solutionKey = (solution: string, analyte: string, lineNm: number) =>
  `${solution}|${analyte}|${lineNm}`;

/** @throws InputError a run without calibration, a calibration that cannot be fitted */
export function indexStudy(records: StudyRecords, measured: readonly MeasuredSolution[]): StudyIndex {
  const digestions = new Map(records.digestions.map((d) => [d.digestion, d]));
  const digestionOf = new Map(records.dilutions.map((d) => [d.dilution, d.digestion]));
  const check = records.plan.driftCheckSolution;
  const sampleOf = (solution: string) =>
    digestions.get(digestionOf.get(solution) ?? solution)?.sample ?? solution;
  const isBlank = (solution: string) =>
    digestions.get(digestionOf.get(solution) ?? solution)?.kind === 'blank';
  const scatterGroups = grouped(measured, (m) => solutionKey(sampleOf(m.solution), m.analyte, m.lineNm));
  const readingScatter = new Map<string, PooledReading>();
  for (const [key, group] of scatterGroups) {
    const pooled = pooledReading(group, !isBlank(group[0]!.solution));
    if (pooled !== null) readingScatter.set(key, pooled);
  }
  return {
    records,
    measured,
    calibrations: runCalibrations(records, measured),
    digestions,
    dilutionsOf: grouped(records.dilutions, (d) => d.digestion),
    balances: new Map(
      records.equipment.flatMap((e) =>
        e.balance === undefined
          ? []
          : [[e.id, { id: e.id, specification: e.balance, certificate: e.certificate }] as const],
      ),
    ),
    scopes: new Map(calibratedScopes(records.plan).map((scope) => [scope.analyte, scope])),
    bySolution: grouped(
      [...measured].sort((a, b) => a.timeHours - b.timeHours),
      (m) => solutionKey(m.solution, m.analyte, m.lineNm),
    ),
    checks: grouped(
      measured.filter((m) => m.solution === check).sort((a, b) => a.position - b.position),
      (m) => calibrationKey(m.run, m.analyte, m.lineNm),
    ),
    readingScatter,
    excluded: new Set(records.exclusions.filter((e) => e.table === 'digestions').map((e) => e.rowKey)),
    spectrometer: spectrometerInUse(records),
  };
}

/** The spectrometer in service on the day of the first reading: a register also keeps those retired and those to come. */
function spectrometerInUse({ equipment, readings }: StudyRecords): string {
  return spectrometerOn(equipment, readings[0]?.time.slice(0, 10) ?? '');
}

/** The spectrometer in service on a day, the first of the register where none is. */
export function spectrometerOn(equipment: readonly EquipmentRecord[], day: string): string {
  const spectrometers = equipment.filter((e) => e.kind === 'spectrometer');
  const inService = spectrometers.find(
    (e) => e.inServiceFrom <= day && (e.inServiceTo === null || day <= e.inServiceTo),
  );
  return (inService ?? spectrometers[0])?.id ?? 'spectrometer';
}

function grouped<T>(items: readonly T[], key: (item: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const item of items) {
    const group = groups.get(key(item));
    if (group === undefined) groups.set(key(item), [item]);
    else group.push(item);
  }
  return groups;
}

/** True unless the digestion, or this analyte of it, is excluded. */
export function usable(index: StudyIndex, digestion: string, analyte: string): boolean {
  return !index.excluded.has(digestion) && !index.excluded.has(`${digestion}|${analyte}`);
}
