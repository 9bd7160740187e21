import { InputError, requireFinite } from '../errors.js';

/** State of the air in the weighing room. */
export interface AirState {
  /** °C, 15 to 27 (range of the formula). */
  readonly temperatureC: number;
  /** Pa, 60 000 to 110 000. */
  readonly pressurePa: number;
  /** Relative humidity as a fraction, 0 to 1. */
  readonly relativeHumidity: number;
  /** Amount fraction of carbon dioxide, mol/mol. */
  readonly carbonDioxide?: number;
}

/** Relative standard uncertainty of the formula itself (Picard et al. 2008, Table 2: 22 · 10⁻⁶; from memory). */
export const airDensityFormulaUncertainty = 22e-6;

const gasConstant = 8.314472;
const molarMassWater = 18.01528e-3;

/**
 * Density of moist air, kg/m³, by the CIPM-2007 equation.
 *
 * @throws InputError a state outside the range of the equation
 * @see Picard, Davis, Gläser, Fujii, Metrologia 45 (2008) 149, equations 1 to 4 and appendix A.1 (from memory, recomputed)
 * @example
 * airDensity({ temperatureC: 20, pressurePa: 101325, relativeHumidity: 0.5 }) // => 1.199314
 */
export function airDensity(air: AirState): number {
  const { temperatureC: t, pressurePa: p, relativeHumidity: h } = air;
  const carbonDioxide = air.carbonDioxide ?? 0.0004;
  requireFinite([t, p, h, carbonDioxide], 'state of the air');
  requireRange(t, 'air temperature in °C', 15, 27);
  requireRange(p, 'air pressure in Pa', 60_000, 110_000);
  requireRange(h, 'relative humidity as a fraction', 0, 1);
  const kelvin = t + 273.15;
  const molarMassAir = (28.96546 + 12.011 * (carbonDioxide - 0.0004)) * 1e-3;
  const vapour = (h * enhancement(p, t) * saturationPressure(kelvin)) / p;
  const z = compressibility(p, t, kelvin, vapour);
  return (
    ((p * molarMassAir) / (z * gasConstant * kelvin)) * (1 - vapour * (1 - molarMassWater / molarMassAir))
  );
}

function requireRange(value: number, name: string, least: number, most: number): void {
  if (value < least || value > most) {
    throw new InputError(
      `${name}: found ${value}, expected ${least} to ${most} (range of the CIPM-2007 equation)`,
    );
  }
}

function enhancement(p: number, t: number): number {
  return 1.00062 + 3.14e-8 * p + 5.6e-7 * t * t;
}

function saturationPressure(kelvin: number): number {
  return Math.exp(
    1.2378847e-5 * kelvin * kelvin - 1.9121316e-2 * kelvin + 33.93711047 - 6.3431645e3 / kelvin,
  );
}

function compressibility(p: number, t: number, kelvin: number, vapour: number): number {
  const virial =
    1.58123e-6 -
    2.9331e-8 * t +
    1.1043e-10 * t * t +
    (5.707e-6 - 2.051e-8 * t) * vapour +
    (1.9898e-4 - 2.376e-6 * t) * vapour * vapour;
  const ratio = p / kelvin;
  return 1 - ratio * virial + ratio * ratio * (1.83e-11 - 0.765e-8 * vapour * vapour);
}
