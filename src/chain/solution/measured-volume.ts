import { InputError, requirePositive } from '../../errors.js';
import type { InputQuantity } from '../../uncertainty/input-quantity.js';
import { identifier, recordedValue, type StatedFactor } from '../model-fragment.js';
import {
  densityAt,
  densityExpression,
  expansionInputs,
  referenceTemperatureC,
  type SolutionDensity,
  temperatureInput,
} from './density.js';

/** What the certificate of a pipette or flask states. */
export interface VolumeSpecification {
  readonly nominalML: number;
  /** Largest deviation at 20 °C, ± in mL (triangular). */
  readonly toleranceML: number;
  /** Standard deviation of one filling or delivery, mL. */
  readonly repeatabilityML: number;
  /** Cubic expansion of the vessel, 1/K. */
  readonly expansionPerK: number;
}

/** A pipette, flask or dispenser of the register. */
export interface VolumetricVessel {
  readonly id: string;
  readonly specification: VolumeSpecification;
  readonly certificate: string;
}

/** A volume of one solution, measured by a vessel; its density turns it into a mass. */
export interface MeasuredVolume {
  readonly volumeML: number;
  readonly vessel: VolumetricVessel;
  readonly density: SolutionDensity;
  /** Name that the density bears in the equations: `rho_<suffix>`. */
  readonly densityName: string;
  /** Temperature at which the volume was measured, °C. */
  readonly temperature: StatedFactor;
}

/**
 * Mass, g, of a measured volume: V·(1 + γ·(T − 20 °C))·ρ(T).
 *
 * @throws InputError a volume that is not above 0 or not that of the vessel
 * @see ISO 4787:2021 (volume at another temperature than 20 °C), from memory; QUAM:2012, example A1, for its contributions
 */
export function massOfVolume(volume: MeasuredVolume): number {
  requirePositive(volume.volumeML, 'volume in mL');
  const { nominalML, expansionPerK } = volume.vessel.specification;
  if (volume.volumeML > nominalML * 1.001) {
    throw new InputError(
      `volume measured by ${volume.vessel.id}: found ${volume.volumeML} mL, expected at most its ${nominalML} mL`,
    );
  }
  const t = volume.temperature.estimate;
  const expanded = volume.volumeML * (1 + expansionPerK * (t - referenceTemperatureC));
  return (expanded * densityAt(volume.density, t)) / 1000;
}

/** `massOfVolume` as an expression over the inputs that `volumeInputs` lists. */
export function volumeMassExpression(symbol: string, volume: MeasuredVolume): string {
  const id = identifier(volume.vessel.id);
  return `(V_${symbol} + tol_${id} + fill_${symbol}) * (1 + gamma_${id} * t_vol) * ${densityExpression(volume.densityName, 't_vol')} / 1000`;
}

/** Inputs of one measured volume: figure, tolerance (shared by all uses of the vessel), filling, temperature, density's temperature. */
export function volumeInputs(
  symbol: string,
  words: string,
  volume: MeasuredVolume,
  source: string,
): InputQuantity[] {
  const { vessel } = volume;
  const spec = vessel.specification;
  const id = identifier(vessel.id);
  const certificate = `${vessel.id}, certificate ${vessel.certificate}`;
  const equipment = vessel.id;
  return [
    recordedValue(`V_${symbol}`, `volume: ${words}`, 'mL', volume.volumeML, 'dilution', source),
    {
      ...recordedValue(`tol_${id}`, `deviation of ${vessel.id} at 20 °C`, 'mL', 0, 'dilution', certificate),
      standardUncertainty: spec.toleranceML / Math.sqrt(6),
      distribution: { kind: 'triangular', halfWidth: spec.toleranceML },
      sourceKind: 'certificate',
      equipment,
    },
    {
      ...recordedValue(`fill_${symbol}`, `filling or delivery: ${words}`, 'mL', 0, 'dilution', certificate),
      standardUncertainty: spec.repeatabilityML,
      sourceKind: 'certificate',
      equipment,
      withinPrecision: true,
      variesWith: 'digestion',
    },
    recordedValue(
      `gamma_${id}`,
      `cubic expansion of ${vessel.id}`,
      '1/K',
      spec.expansionPerK,
      'dilution',
      certificate,
    ),
    temperatureInput('t_vol', 'temperature of the volumes', volume.temperature, 'dilution'),
    ...expansionInputs(volume.density),
  ];
}
