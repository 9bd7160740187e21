import { InputError } from '../../errors.js';

/** Precision between laboratories that is usual at a mass fraction. */
export interface HorwitzExpectation {
  readonly massFraction: number;
  /** Horwitz function, relative standard deviation in %. */
  readonly horwitzPercent: number;
  /** With Thompson's amendments below 1.2e-7 and above 0.138, in %. */
  readonly thompsonPercent: number;
  /** 0.5 and 0.67 of the amended value: what one laboratory's intermediate precision usually takes (common practice). */
  readonly withinLaboratoryLowPercent: number;
  readonly withinLaboratoryHighPercent: number;
}

/**
 * Horwitz function and its amended form: the reproducibility that collaborative trials have shown, whatever the method.
 * It speaks of precision between laboratories and of food-like matrices: a comparison value, never a criterion alone.
 *
 * @param massFraction as a fraction of 1: 0.0001 for 100 mg/kg
 * @throws InputError a mass fraction outside 0 to 1
 * @see Horwitz 1982, Anal. Chem. 54, 67A; Thompson 2000, Analyst 125, 385
 * @example
 * horwitz(1e-6).horwitzPercent // => 16
 */
export function horwitz(massFraction: number): HorwitzExpectation {
  if (!(massFraction > 0 && massFraction <= 1)) {
    throw new InputError(`mass fraction: found ${massFraction}, expected a number above 0 and at most 1`);
  }
  const horwitzPercent = 2 ** (1 - 0.5 * Math.log10(massFraction));
  const amended =
    massFraction < 1.2e-7
      ? 0.22 * massFraction
      : massFraction > 0.138
        ? 0.01 * Math.sqrt(massFraction)
        : 0.02 * massFraction ** 0.8495;
  const thompsonPercent = (100 * amended) / massFraction;
  return {
    massFraction,
    horwitzPercent,
    thompsonPercent,
    withinLaboratoryLowPercent: 0.5 * thompsonPercent,
    withinLaboratoryHighPercent: 0.67 * thompsonPercent,
  };
}

/**
 * Mass fraction as a fraction of 1.
 *
 * @throws InputError a unit that is not a mass fraction
 * @example
 * asFraction(25, 'mg/kg') // => 0.000025
 */
export function asFraction(value: number, unit: string): number {
  if (unit === 'mg/kg') return value / 1e6;
  if (unit === 'g/100 g') return value / 100;
  throw new InputError(`unit of a mass fraction: found ${unit}, expected mg/kg or g/100 g`);
}
