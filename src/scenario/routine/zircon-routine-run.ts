import type { StudyRecords } from '../../records/study-records.js';
import { tableNames } from '../../records/study-tables.js';
import { balanceReader } from '../balance-reading.js';
import { type Analyte, analyteDesigns, analyteNames } from '../design/analytes.js';
import { names } from '../design/components.js';
import { reportedForm } from '../design/oxide-form.js';
import { type DigestionContents, digestionContents } from '../digestion-contents.js';
import { hiddenErrors } from '../hidden-errors.js';
import { equipmentRegister } from '../plan/equipment-register.js';
import { runSequence, sampleSolutions } from '../run-sequence.js';
import { scenarioSwitches } from '../scenario-options.js';
import { calibrationRecords, calibrationSolutions } from '../tables/calibration.js';
import { balanceIds, digestionRecord } from '../tables/digestions.js';
import { preparedDilution } from '../tables/dilutions.js';
import { interferenceRecords } from '../tables/interference.js';
import { runReadings } from '../tables/readings.js';
import { referenceRecords } from '../tables/references.js';
import { standardRecords } from '../tables/standards.js';
import { plantedFaults, withReadingFaults, withRecordFault } from './routine-faults.js';
import { recordedMoisture, routineAnalytes, routineMaterials } from './routine-materials.js';
import { routinePlan } from './routine-plan.js';
import { routineDays, routineSample, routineSchedule, samplesOfRun } from './routine-schedule.js';

/** Records of the invented routine run and the truth behind them. */
export interface ZirconRoutineRun {
  readonly records: StudyRecords;
  readonly truth: {
    readonly schema: 'meltbook routine truth 1';
    readonly invented: true;
    readonly seed: number;
    /** In the oxide and unit of the plan, by sample and analyte. */
    readonly massFractions: Readonly<Record<string, Readonly<Record<string, number>>>>;
    readonly plantedFaults: typeof plantedFaults;
  };
}

const run = 'R-R1';

/**
 * One routine run of the invented laboratory after its validation: forty samples with blanks, a reference material and check
 * solutions, and one fault of each kind that results must be flagged for. The certificates are those of the validation of the same
 * seed.
 *
 * @throws InputError a seed that is none
 * @example
 * zirconRoutineRun(1).records.digestions.length // => 48
 */
export function zirconRoutineRun(seed: number): ZirconRoutineRun {
  const switches = scenarioSwitches({ seed });
  const hidden = hiddenErrors(switches);
  const materials = routineMaterials(seed, hidden);
  const contents = digestionContents(
    routineSchedule(),
    hidden,
    switches,
    (sample) => materials.get(sample) ?? null,
  );
  const spoilt = withDirtyBlank(contents);
  const equipment = equipmentRegister(switches.repeatabilityFactor);
  const balanceOf = (id: string) => balanceReader(seed, equipment.find((e) => e.id === id)!);
  const balances = { portion: balanceOf(balanceIds.portion), vessel: balanceOf(balanceIds.vessel) };
  const dilutions = spoilt.map((c) => preparedDilution(seed, c, balances.vessel));
  const standards = calibrationSolutions(seed, run, hidden);
  const fresh = spoilt.flatMap((c, i) => sampleSolutions(c, dilutions[i]!));
  const sequence = {
    ...runSequence({ day: 2, kept: [], fresh }, standards, hidden),
    run,
    date: routineDays[1],
  };
  const reported = (row: { readonly analyte: string }) =>
    !(analyteNames as readonly string[]).includes(row.analyte) ||
    (routineAnalytes as readonly string[]).includes(row.analyte);
  const digestions = spoilt.map((c) =>
    withRecordFault(digestionRecord(seed, c, balances, hidden.portionDensity)),
  );
  const differing = digestions.find((d) => d.sample === plantedFaults.secondLineDiffers)!.digestion;
  const readings = runReadings(seed, sequence, hidden, new Map()).filter(reported);
  const samples = Array.from({ length: samplesOfRun }, (_, i) => routineSample(i + 1));
  const given: Partial<StudyRecords> = {
    digestions,
    dilutions: dilutions.map((d) => d.record),
    calibration: calibrationRecords(run, standards).filter(reported),
    readings: withReadingFaults(readings, differing, analyteDesigns.Fe.secondLineNm!),
    standards: standardRecords().filter(reported),
    references: referenceRecords(seed).filter((r) => r.material === 'QRM-1' && reported(r)),
    moisture: [...samples, 'QRM-1'].map((sample) => ({
      sample,
      ...recordedMoisture,
      ...(sample === 'QRM-1' ? { lossGPer100G: 0.12 } : {}),
      basis: 'as received to dry' as const,
    })),
    interference: interferenceRecords().filter(reported),
  };
  const records = withoutOtherTables({ plan: routinePlan(), equipment, ...given });
  const truthOf = (sample: string) =>
    Object.fromEntries(
      routineAnalytes.map((a: Analyte) => [a, reportedForm(a, materials.get(sample)!.contents[a])]),
    );
  return {
    records,
    truth: {
      schema: 'meltbook routine truth 1',
      invented: true,
      seed,
      massFractions: Object.fromEntries(samples.map((sample) => [sample, truthOf(sample)])),
      plantedFaults,
    },
  };
}

/** Records with every table that a routine run has no rows of. */
function withoutOtherTables(given: Partial<StudyRecords>): StudyRecords {
  const missingTables = tableNames.filter((name) => given[name] === undefined);
  const empty = Object.fromEntries(missingTables.map((name) => [name, []]));
  return { ...empty, ...given, missingTables } as unknown as StudyRecords;
}

/** The last procedure blank picks up titanium. */
function withDirtyBlank(contents: readonly DigestionContents[]): DigestionContents[] {
  const { analyte, addedMg } = plantedFaults.dirtyBlank;
  const last = contents.map((c) => c.scheduled.sample).lastIndexOf(names.procedureBlank);
  return contents.map((c, i) =>
    i !== last
      ? c
      : {
          ...c,
          contentMgPerKg: {
            ...c.contentMgPerKg,
            [analyte]: c.contentMgPerKg[analyte] + (addedMg * 1000) / c.solutionG,
          },
        },
  );
}
