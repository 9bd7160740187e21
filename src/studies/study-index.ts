import type { Balance } from '../chain/balance.js';
import type { LossStep } from '../chain/mass-on-basis.js';
import type { AnalyteScope, EquipmentRecord, StudyPlan } from '../records/study.js';
import type { StudyRecords } from '../records/study-records.js';
import type { DigestionRecord } from '../records/tables/digestions.js';
import type { DilutionRecord } from '../records/tables/dilutions.js';
import type { MoistureRecord } from '../records/tables/moisture.js';
import { type CommonNoise, commonNoise } from './common-noise.js';
import type { MeasuredSolution } from './measured-solutions.js';
import { modelledDeviation, pooledNoise, type ReadingNoise } from './reading-noise.js';
import type { StudyRecovery } from './recovery/study-recovery.js';
import {
  type Calibrations,
  calibratedScopes,
  calibrationKey,
  runCalibrations,
  signalOfStandard,
} from './run-calibrations.js';

/** A study's records indexed for the chain: what every job starts from. */
export interface StudyIndex {
  readonly records: StudyRecords;
  readonly measured: readonly MeasuredSolution[];
  readonly calibrations: Calibrations;
  readonly digestions: ReadonlyMap<string, DigestionRecord>;
  readonly dilutionsOf: ReadonlyMap<string, readonly DilutionRecord[]>;
  readonly balances: ReadonlyMap<string, Balance>;
  /** Losses of mass by `lossKey`. */
  readonly losses: ReadonlyMap<string, MoistureRecord>;
  readonly scopes: ReadonlyMap<string, AnalyteScope>;
  /** Measured solutions by solution, analyte and line, in order of time. */
  readonly bySolution: ReadonlyMap<string, readonly MeasuredSolution[]>;
  /** Check solutions by run, analyte and line, in order of place. */
  readonly checks: ReadonlyMap<string, readonly MeasuredSolution[]>;
  /** Noise of readings by sample (or check solution), analyte and line. */
  readonly readingNoise: ReadonlyMap<string, ReadingNoise>;
  /** The same by `lineKey`, over the solutions of all digestions but blanks: for a sample whose solutions were read once. */
  readonly lineNoise: ReadonlyMap<string, ReadingNoise>;
  /** Noise that the lines read together share; null where there is none. */
  readonly commonNoise: CommonNoise | null;
  /** Digestions left out whole, and for single analytes as `digestion|analyte`. */
  readonly excluded: ReadonlySet<string>;
  readonly spectrometer: string;
  /** Recoveries that results are divided by; absent where there are none, or none yet. */
  readonly recoveries?: ReadonlyMap<string, StudyRecovery>;
}

/** Key of the readings of one solution on one line. */
export const solutionKey = (solution: string, analyte: string, lineNm: number) =>
  `${solution}|${analyte}|${lineNm}`;

/** Key of a loss of mass: its sample and its step, as in the table moisture. */
export const lossKey = (sample: string, step: LossStep) => `${sample}|${step}`;

/** Key of the readings of all solutions on one line. */
export const lineKey = (analyte: string, lineNm: number) => `${analyte}|${lineNm}`;

/** @throws InputError a run without calibration, a calibration that cannot be fitted */
export function indexStudy(records: StudyRecords, measured: readonly MeasuredSolution[]): StudyIndex {
  const digestions = new Map(records.digestions.map((d) => [d.digestion, d]));
  const digestionOf = new Map(records.dilutions.map((d) => [d.dilution, d.digestion]));
  const check = records.plan.driftCheckSolution;
  const sampleOf = (solution: string) =>
    digestions.get(digestionOf.get(solution) ?? solution)?.sample ?? solution;
  const calibrations = runCalibrations(records, measured);
  const scopes = new Map(calibratedScopes(records.plan).map((scope) => [scope.analyte, scope]));
  // A line that was not calibrated gives no result, and its readings no noise.
  const calibrated = measured.filter((m) => calibrations.has(calibrationKey(m.run, m.analyte, m.lineNm)));
  const modelled = (m: MeasuredSolution) => modelledReading(records.plan, scopes, calibrations, m);
  const bySample = grouped(calibrated, (m) => solutionKey(sampleOf(m.solution), m.analyte, m.lineNm));
  const ofDigestions = calibrated.filter(({ solution }) => {
    const digestion = digestions.get(digestionOf.get(solution) ?? solution);
    return digestion !== undefined && digestion.kind !== 'blank';
  });
  const lineNoise = noises(
    grouped(ofDigestions, (m) => lineKey(m.analyte, m.lineNm)),
    modelled,
  );
  return {
    records,
    measured,
    calibrations,
    digestions,
    dilutionsOf: grouped(records.dilutions, (d) => d.digestion),
    balances: new Map(
      records.equipment.flatMap((e) =>
        e.balance === undefined
          ? []
          : [[e.id, { id: e.id, specification: e.balance, certificate: e.certificate }] as const],
      ),
    ),
    losses: new Map(records.moisture.map((m) => [lossKey(m.sample, m.basis), m])),
    scopes,
    bySolution: grouped(
      [...measured].sort((a, b) => a.timeHours - b.timeHours),
      (m) => solutionKey(m.solution, m.analyte, m.lineNm),
    ),
    checks: grouped(
      measured.filter((m) => m.solution === check).sort((a, b) => a.position - b.position),
      (m) => calibrationKey(m.run, m.analyte, m.lineNm),
    ),
    readingNoise: noises(bySample, modelled),
    lineNoise,
    commonNoise: commonNoise(
      ofDigestions,
      (m) => (lineNoise.get(lineKey(m.analyte, m.lineNm))?.factor ?? 1) * modelled(m),
    ),
    excluded: new Set(records.exclusions.filter((e) => e.table === 'digestions').map((e) => e.rowKey)),
    spectrometer: spectrometerInUse(records),
  };
}

/** Standard deviation that the plan's signal model gives one reading of a solution, as a ratio. */
export function modelledReading(
  plan: StudyPlan,
  scopes: ReadonlyMap<string, AnalyteScope>,
  calibrations: Calibrations,
  { run, analyte, lineNm, meanRatio, internalStandard }: MeasuredSolution,
): number {
  const { signalFloorMgPerKg: floor, signalRelative: relative } = scopes.get(analyte)!;
  const calibration = calibrations.get(calibrationKey(run, analyte, lineNm))!;
  return modelledDeviation(
    { floor, relative },
    calibration,
    meanRatio,
    signalOfStandard(plan, 1, internalStandard),
  );
}

function noises(
  groups: ReadonlyMap<string, readonly MeasuredSolution[]>,
  modelled: (solution: MeasuredSolution) => number,
): Map<string, ReadingNoise> {
  const found = new Map<string, ReadingNoise>();
  for (const [key, group] of groups) {
    const noise = pooledNoise(group, modelled);
    if (noise !== null) found.set(key, noise);
  }
  return found;
}

/**
 * Standard uncertainty of the mean ratio of a solution from the scatter of readings: of its sample, else of all digestions on
 * that line. Where nothing was read twice it is 0: the scatter of readings then lies in that of results.
 */
export function readingUncertainty(
  index: StudyIndex,
  sample: string,
  solution: MeasuredSolution,
): { readonly standardUncertainty: number; readonly degreesOfFreedom: number } {
  const { analyte, lineNm, ratios } = solution;
  const noise =
    index.readingNoise.get(solutionKey(sample, analyte, lineNm)) ??
    index.lineNoise.get(lineKey(analyte, lineNm));
  if (noise === undefined) return { standardUncertainty: 0, degreesOfFreedom: Number.POSITIVE_INFINITY };
  const modelled = modelledReading(index.records.plan, index.scopes, index.calibrations, solution);
  return {
    standardUncertainty: (noise.factor * modelled) / Math.sqrt(ratios.length),
    degreesOfFreedom: noise.degreesOfFreedom,
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
