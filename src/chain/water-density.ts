import { InputError } from '../errors.js';

/**
 * Density of air-free water at 101.325 kPa, kg/m³.
 *
 * @param temperatureC °C, 0 to 40
 * @throws InputError a temperature outside the range of the equation
 * @see Tanaka, Girard, Davis, Peuto, Bignell, Metrologia 38 (2001) 301, equation 1 (from memory, recomputed)
 * @example
 * waterDensity(20) // => 998.206746
 */
export function waterDensity(temperatureC: number): number {
  if (!(temperatureC >= 0 && temperatureC <= 40)) {
    throw new InputError(`water temperature in °C: found ${temperatureC}, expected 0 to 40`);
  }
  const t = temperatureC;
  return 999.97495 * (1 - ((t - 3.983035) ** 2 * (t + 301.797)) / (522528.9 * (t + 69.34881)));
}
