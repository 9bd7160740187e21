import { InputError, requirePositive } from '../errors.js';
import type { InputQuantity } from '../uncertainty/input-quantity.js';
import type { ModelEquation } from '../uncertainty/measurement-model.js';
import { recordedValue } from './model-fragment.js';

/** Conventional density of the masses a balance is adjusted with, kg/m³ (OIML D 28:2004). */
export const conventionalDensity = 8000;

/**
 * Factor that turns the difference of two balance readings in air into the mass of the object.
 *
 * @param airDensityKgPerM3 density of the air
 * @param objectDensityKgPerM3 density of the object weighed
 * @throws InputError a density that is not above 0, or an object no denser than air
 * @see OIML D 28:2004 (conventional value of the result of weighing in air); methods for the factor common in mass metrology
 * @example
 * buoyancyFactor(1.2, 1000) // => 1.001051
 */
export function buoyancyFactor(airDensityKgPerM3: number, objectDensityKgPerM3: number): number {
  requirePositive(airDensityKgPerM3, 'air density in kg/m³');
  requirePositive(objectDensityKgPerM3, 'density of the object in kg/m³');
  if (objectDensityKgPerM3 <= airDensityKgPerM3) {
    throw new InputError(
      `density of the object: found ${objectDensityKgPerM3} kg/m³, expected above that of air`,
    );
  }
  return (1 - airDensityKgPerM3 / conventionalDensity) / (1 - airDensityKgPerM3 / objectDensityKgPerM3);
}

/** `buoyancyFactor` as an equation over the air density `rho_a`, `rho_ref` and the density named. */
export function buoyancyEquation(name: string, description: string, density: string): ModelEquation {
  const expression = `(1 - rho_a / rho_ref) / (1 - rho_a / ${density})`;
  return { name, description, unit: '1', expression };
}

/** Conventional density of the reference masses as an input. */
export function referenceDensityInput(): InputQuantity {
  const source = 'OIML D 28:2004, conventional density of mass standards';
  return recordedValue(
    'rho_ref',
    'conventional density of mass standards',
    'kg/m^3',
    conventionalDensity,
    'weighing',
    source,
  );
}
