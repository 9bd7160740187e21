import { requirePositive } from '../../errors.js';
import type { InputQuantity } from '../../uncertainty/input-quantity.js';
import { type ModelFragment, recordedValue, type StatedFactor, statedInput } from '../model-fragment.js';

/** Temperature that volumetric glassware is calibrated at and temperatures are counted from, °C. */
export const referenceTemperatureC = 20;

/** How the densities of a study's solutions were measured: one meter, so that all of them share its error. */
export interface DensityMeasurement {
  readonly standardUncertaintyKgPerM3: number;
  /** Temperature of the density measurement, °C. */
  readonly temperatureC: number;
  /** Temperature of the solutions when they are read, °C. */
  readonly readingTemperature: StatedFactor;
  /** Relative decrease of the density per kelvin. */
  readonly expansionPerK: StatedFactor;
  readonly source: string;
}

/** Density of one solution, as recorded. */
export interface SolutionDensity {
  readonly kgPerM3: number;
  readonly measurement: DensityMeasurement;
}

/**
 * Density of a solution at another temperature than that of its measurement, kg/m³.
 *
 * @throws InputError a density that is not above 0
 * @see thermal expansion, first order; for water at 20 °C the coefficient is 2.07 · 10⁻⁴ /K by Tanaka et al. 2001
 * @example
 * const exactly = (estimate) => ({ estimate, standardUncertainty: 0, distribution: 'normal', source: '' });
 * const measurement = { standardUncertaintyKgPerM3: 0.5, temperatureC: 20, readingTemperature: exactly(23), expansionPerK: exactly(2.1e-4), source: '' };
 * densityAt({ kgPerM3: 1012, measurement }, 23) // => 1011.36244
 */
export function densityAt(density: SolutionDensity, temperatureC: number): number {
  requirePositive(density.kgPerM3, 'density of a solution in kg/m³');
  const { measurement } = density;
  return (
    density.kgPerM3 * (1 - measurement.expansionPerK.estimate * (temperatureC - measurement.temperatureC))
  );
}

/** Density `rho_<suffix>` as measured: the recorded figure and the error that all densities share. */
export function densityFragment(suffix: string, density: SolutionDensity, source: string): ModelFragment {
  return {
    equations: [
      {
        name: `rho_${suffix}`,
        description: 'density of the solution, as measured',
        unit: 'kg/m^3',
        expression: `rho_rec_${suffix} + e_rho`,
      },
    ],
    inputs: [
      recordedValue(
        `rho_rec_${suffix}`,
        'recorded density of the solution',
        'kg/m^3',
        density.kgPerM3,
        'dissolution',
        source,
      ),
      {
        ...recordedValue(
          'e_rho',
          'error of the density measurement, common to all solutions',
          'kg/m^3',
          0,
          'dissolution',
          density.measurement.source,
        ),
        standardUncertainty: density.measurement.standardUncertaintyKgPerM3,
        sourceKind: 'certificate',
      },
    ],
    correlations: [],
  };
}

/** Expression for the density `rho_<suffix>` at the temperature that input `time` counts from 20 °C. */
export function densityExpression(suffix: string, time: string): string {
  return `rho_${suffix} * (1 - beta_rho * (${time} - t_rho))`;
}

/** Inputs of `densityExpression` but the temperature itself. */
export function expansionInputs({ measurement }: SolutionDensity): InputQuantity[] {
  return [
    statedInput(
      'beta_rho',
      'relative decrease of density per kelvin',
      '1/K',
      measurement.expansionPerK,
      'dissolution',
    ),
    recordedValue(
      't_rho',
      'temperature of the density measurement above 20 °C',
      'K',
      measurement.temperatureC - referenceTemperatureC,
      'dissolution',
      measurement.source,
    ),
  ];
}

/** A temperature as an input in kelvin above 20 °C. */
export function temperatureInput(
  name: string,
  description: string,
  temperature: StatedFactor,
  step: string,
): InputQuantity {
  const above20 = { ...temperature, estimate: temperature.estimate - referenceTemperatureC };
  return statedInput(name, `${description} above 20 °C`, 'K', above20, step);
}
