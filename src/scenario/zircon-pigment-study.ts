import type { StudyRecords } from '../records/study-records.js';
import type { CalibrationRecord } from '../records/tables/calibration.js';
import type { ReadingRecord } from '../records/tables/readings.js';
import { balanceReader } from './balance-reading.js';
import { names } from './design/components.js';
import { workingDays } from './design/schedule.js';
import { type DigestionContents, digestionContents } from './digestion-contents.js';
import { digestionSchedule } from './digestion-schedule.js';
import { type HiddenErrors, hiddenErrors } from './hidden-errors.js';
import { equipmentRegister } from './plan/equipment-register.js';
import { studyPlan } from './plan/study-plan.js';
import { type PumpedSolution, runName, runSequence, sampleSolutions } from './run-sequence.js';
import { type ScenarioSwitches, scenarioSwitches, type ZirconPigmentOptions } from './scenario-options.js';
import { type ScenarioTruth, scenarioTruth } from './scenario-truth.js';
import { additionDay, additionRecords, additionSample, additionSolutions } from './tables/additions.js';
import {
  calibrationRecords,
  calibrationSolutions,
  nativeCalibrationSolutions,
} from './tables/calibration.js';
import { comparisonRecords } from './tables/comparison.js';
import { type Balances, balanceIds, digestionRecord } from './tables/digestions.js';
import { type PreparedDilution, preparedDilution } from './tables/dilutions.js';
import { exclusionRecords } from './tables/exclusions.js';
import { factorRecords } from './tables/factors.js';
import { historyRecords } from './tables/history.js';
import { homogeneityRecords } from './tables/homogeneity.js';
import { interferenceRecords } from './tables/interference.js';
import { moistureRecords } from './tables/moisture.js';
import { nativeReadings } from './tables/native-readings.js';
import { type FirstReadings, runReadings } from './tables/readings.js';
import { referenceRecords } from './tables/references.js';
import { roundRecords } from './tables/rounds.js';
import { spikeRecords } from './tables/spikes.js';
import { standardRecords } from './tables/standards.js';

/** Records of the invented study and the truth behind them. */
export interface ZirconPigmentStudy {
  readonly records: StudyRecords;
  readonly truth: ScenarioTruth;
}

/** The seed of the committed demonstration data, fixed before its first run. */
export const demonstrationSeed = 20260302;

/**
 * The invented validation of a zircon-pigment matrix: from true contents forward to raw records.
 *
 * Answers: what would a laboratory have written down, had these been the truth? Every error is drawn from the
 * distribution that the records themselves state; what no record states is in `trueComponents`. Each draw has a
 * stream of its own, labelled by table, row and purpose, so a switch changes only what it is about.
 *
 * @param options seed and switches
 * @returns records as `readStudy` would give them, and the truth
 * @throws InputError a switch out of its range
 * @example
 * zirconPigmentStudy({ seed: 1 }).records.digestions.length // => 149
 */
export function zirconPigmentStudy(options: ZirconPigmentOptions): ZirconPigmentStudy {
  const switches = scenarioSwitches(options);
  const { seed } = switches;
  const hidden = hiddenErrors(switches);
  const schedule = digestionSchedule(seed);
  const contents = digestionContents(schedule, hidden, switches);
  const equipment = equipmentRegister(switches.repeatabilityFactor);
  const balanceOf = (id: string) => balanceReader(seed, equipment.find((e) => e.id === id)!);
  const balances: Balances = {
    portion: balanceOf(balanceIds.portion),
    vessel: balanceOf(balanceIds.vessel),
  };
  const dilutions = contents.map((c) => preparedDilution(seed, c, balances.vessel));
  const named = namedDigestions(contents);
  const measured = measuredTables(switches, hidden, contents, dilutions, named);
  const records: StudyRecords = {
    plan: studyPlan({
      stability: named.stability.map((c) => c.scheduled.digestion),
      nativeCheck: named.nativeCheck.map((c) => c.scheduled.digestion),
    }),
    equipment,
    digestions: contents.map((c) => digestionRecord(seed, c, balances, hidden.portionDensity)),
    dilutions: dilutions.map((d) => d.record),
    ...measured,
    standards: standardRecords(),
    references: referenceRecords(seed),
    spikes: spikeRecords(schedule),
    additions: additionRecords(additionBases(contents, dilutions)),
    comparison: comparisonRecords(seed),
    moisture: moistureRecords(),
    interference: interferenceRecords(),
    exclusions: exclusionRecords(schedule, switches.calciumBlanksUsable),
    factors: factorRecords(seed),
    homogeneity: homogeneityRecords(seed),
    history: historyRecords(switches),
    rounds: roundRecords(switches),
    missingTables: [],
  };
  const factors = dilutions.map((d) => d.factor);
  return { records, truth: scenarioTruth(switches, hidden, contents, factors) };
}

interface NamedContents {
  /** Kept from the first day and read again. */
  readonly stability: readonly DigestionContents[];
  /** Read for native internal-standard element. */
  readonly nativeCheck: readonly DigestionContents[];
}

function namedDigestions(contents: readonly DigestionContents[]): NamedContents {
  const plain = contents.filter((c) => c.scheduled.spikeStage === null);
  const levels: readonly string[] = ['ZP-1', 'ZP-2', 'ZP-3'];
  const lastDay = plain.filter(({ scheduled }) => scheduled.day === workingDays.length);
  return {
    stability: plain.filter(({ scheduled }) => scheduled.day === 1 && levels.includes(scheduled.sample)),
    nativeCheck: [...levels, 'ZP-4'].flatMap((sample) =>
      lastDay.filter((c) => c.scheduled.sample === sample).slice(0, 1),
    ),
  };
}

/** The solutions that standard additions are made to: a digestion of the day and its further dilution. */
function additionBases(
  contents: readonly DigestionContents[],
  dilutions: readonly PreparedDilution[],
): PumpedSolution[] {
  const index = contents.findIndex(
    ({ scheduled: { day, sample, spikeStage } }) =>
      day === additionDay && sample === additionSample && spikeStage === null,
  );
  return sampleSolutions(contents[index]!, dilutions[index]!);
}

/** Days after the first on which kept solutions are read again: 24, 48, 72 and 96 h later. */
const stabilityDays: readonly number[] = [2, 3, 4, 5];

function measuredTables(
  switches: ScenarioSwitches,
  hidden: HiddenErrors,
  contents: readonly DigestionContents[],
  dilutions: readonly PreparedDilution[],
  named: NamedContents,
): { readonly calibration: CalibrationRecord[]; readonly readings: ReadingRecord[] } {
  const { seed } = switches;
  const calibration: CalibrationRecord[] = [];
  const readings: ReadingRecord[] = [];
  const firstReadings: FirstReadings = new Map();
  const solutionsOf = (c: DigestionContents): PumpedSolution[] =>
    sampleSolutions(c, dilutions[contents.indexOf(c)]!);
  const kept = named.stability.flatMap(solutionsOf);
  const additions = (day: number): PumpedSolution[] =>
    day === additionDay
      ? additionBases(contents, dilutions).flatMap((base) => additionSolutions(seed, base, hidden))
      : [];
  for (let day = 1; day <= workingDays.length; day++) {
    const today = contents.filter((c) => c.scheduled.day === day);
    const first = today.filter((c) => named.stability.includes(c));
    const others = today.filter((c) => !named.stability.includes(c));
    const standards = calibrationSolutions(seed, runName(day), hidden);
    const sequence = runSequence(
      {
        day,
        kept: stabilityDays.includes(day) ? kept : [],
        fresh: [...[...first, ...others].flatMap(solutionsOf), ...additions(day)],
        withZeros: true,
      },
      standards,
      hidden,
    );
    calibration.push(...calibrationRecords(sequence.run, standards));
    readings.push(...runReadings(seed, sequence, hidden, firstReadings));
  }
  const nativeStandards = nativeCalibrationSolutions(seed, names.nativeRun);
  calibration.push(...calibrationRecords(names.nativeRun, nativeStandards));
  readings.push(...nativeReadings(seed, nativeStandards, named.nativeCheck));
  return { calibration, readings };
}
