import type { Dilution } from '../chain/dilution.js';
import { dilutionFactor, dilutionMasses } from '../chain/dilution.js';
import type { StatedFactor } from '../chain/model-fragment.js';
import type { DensityMeasurement } from '../chain/solution/density.js';
import type { KnownInternalStandard } from '../chain/solution/internal-standard.js';
import type { SolutionSignal } from '../chain/solution-signal.js';
import { InputError } from '../errors.js';
import type { StudyPlan } from '../records/study.js';
import type { DigestionRecord } from '../records/tables/digestions.js';
import { type DilutionRecord, dilutionBalance } from '../records/tables/dilutions.js';
import type { MeasuredSolution } from './measured-solutions.js';
import { balanceOf, stated } from './stated-inputs.js';
import type { StudyIndex } from './study-index.js';

function normal(estimate: number, standardUncertainty: number, source: string): StatedFactor {
  return { estimate, standardUncertainty, distribution: 'normal', source };
}

/** The plan's words on densities as the chain takes them, kg/m³. */
export function densityMeasurement(density: NonNullable<StudyPlan['density']>): DensityMeasurement {
  const { source } = density;
  return {
    standardUncertaintyKgPerM3: density.standardUncertaintyGPerML * 1000,
    temperatureC: density.temperatureC,
    readingTemperature: normal(
      density.readingTemperatureC,
      density.readingTemperatureStandardUncertaintyK,
      source,
    ),
    expansionPerK: normal(density.expansionPerK, density.expansionStandardUncertaintyPerK, source),
    source,
  };
}

/**
 * Internal standard, pump, native amount and density of one solution, as the plan's modes ask for them.
 *
 * @throws InputError readings without internal standard, a mass or density that the mode needs
 */
export function modeInputs(
  index: StudyIndex,
  row: DigestionRecord,
  record: DilutionRecord | undefined,
  m: MeasuredSolution,
): Pick<SolutionSignal, 'internalStandard' | 'pump' | 'native' | 'density'> {
  const { plan } = index.records;
  const byVolume = plan.calibration.basis === 'mg/L';
  const density = byVolume ? densityOf(index, row, record) : null;
  if (m.analyte === plan.internalStandard.element) return { density };
  const native = stated(index, 'native internal standard', m.analyte);
  if (plan.internalStandard.mode === 'on line') {
    return { density, native, pump: stated(index, 'pump flow ratio', m.analyte) };
  }
  if (m.internalStandard === null) {
    throw new InputError(
      `run ${m.run}, solution ${m.solution}: found no reading of the internal standard, expected one with each reading of ${m.analyte}`,
    );
  }
  return { density, native, internalStandard: knownInternalStandard(index, row, record) };
}

function knownInternalStandard(
  index: StudyIndex,
  row: DigestionRecord,
  record: DilutionRecord | undefined,
): KnownInternalStandard {
  const { mode, solution } = index.records.plan.internalStandard;
  if (solution === undefined) {
    throw new InputError(`study.json: expected internalStandard.solution, as the mode is "${mode}"`);
  }
  const { densityGPerML, ...rest } = solution;
  const added = record?.internalStandardG ?? null;
  const inDilution = (dilution: DilutionRecord) =>
    added === null
      ? ('all diluent' as const)
      : { addedG: added, balance: balanceOf(index, dilutionBalance(dilution, row)) };
  return {
    solution: { ...rest, densityKgPerM3: densityGPerML * 1000 },
    inDigestion:
      row.internalStandardG === null
        ? null
        : { addedG: row.internalStandardG, balance: balanceOf(index, row.portionBalance) },
    inDilution: mode === 'in the diluent' && record !== undefined ? inDilution(record) : null,
  };
}

/**
 * True where a routine run lacks the density by which this digestion's own solution, calibrated in mg/L, would come to mass: it
 * then has no result, and the others go on.
 */
export function lacksDensity(
  { records: { plan } }: StudyIndex,
  row: DigestionRecord,
  record: DilutionRecord | undefined,
): boolean {
  const isNeeded = plan.calibration.basis === 'mg/L' && record === undefined;
  return plan.routine !== undefined && isNeeded && row.densityGPerML === null;
}

function densityOf(index: StudyIndex, row: DigestionRecord, record: DilutionRecord | undefined) {
  const { density } = index.records.plan;
  const gPerML = record === undefined ? row.densityGPerML : density?.dilutionGPerML;
  if (density === undefined || gPerML === undefined || gPerML === null) {
    throw new InputError(`solution ${record?.dilution ?? row.digestion}: expected its density in g/mL`);
  }
  return { kgPerM3: gPerML * 1000, measurement: densityMeasurement(density) };
}

/**
 * The further dilution that a signal was read in; entered into `dilutions` under the name of its factor.
 *
 * @throws InputError a dilution made up to a volume without flask and density in the plan
 */
export function dilutionOf(
  index: StudyIndex,
  row: DigestionRecord,
  record: DilutionRecord | undefined,
  dilutions: Record<string, Dilution>,
): Pick<SolutionSignal, 'dilutionFactor' | 'dilutionName'> {
  if (record === undefined) return { dilutionFactor: 1, dilutionName: null };
  const known = Object.entries(dilutions).find(([, d]) => d.dilution === record.dilution);
  const count = Object.keys(dilutions).length;
  const name = known?.[0] ?? (count === 0 ? 'F' : `F${count + 1}`);
  const balance = balanceOf(index, dilutionBalance(record, row));
  const { dilution, aliquotG, finalG } = record;
  const made: Dilution =
    finalG === null
      ? { dilution, balance, aliquot: { massG: aliquotG }, final: finalVolume(index, row, record, name) }
      : { dilution, balance, aliquotG, finalG };
  dilutions[name] = made;
  const masses = dilutionMasses(made, 1);
  return { dilutionFactor: dilutionFactor(masses.aliquotG, masses.finalG), dilutionName: name };
}

function finalVolume(index: StudyIndex, row: DigestionRecord, record: DilutionRecord, densityName: string) {
  const { flask } = index.records.plan;
  const vessel = index.records.equipment.find((e) => e.id === flask?.equipment);
  if (flask === undefined || vessel?.volume === undefined) {
    throw new InputError(
      `dilution ${record.dilution}: found ${record.finalML} mL, expected a flask in study.json with its volume in equipment.json`,
    );
  }
  return {
    volumeML: record.finalML!,
    vessel: { id: vessel.id, certificate: vessel.certificate, specification: vessel.volume },
    density: densityOf(index, row, record),
    densityName,
    temperature: normal(
      flask.temperatureC,
      flask.temperatureStandardUncertaintyK,
      `temperature of ${vessel.id}`,
    ),
  };
}
