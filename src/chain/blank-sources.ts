import type { AmountByCalibration, BlankByCalibration, CalibrationEffect } from './blank-calibration.js';
import type { Calibration } from './calibration.js';

/** How the amounts of several blanks move with one calibration, a number a blank; 0 where a blank was read with another. */
export interface CalibrationColumns {
  readonly label: string;
  readonly calibration: Calibration;
  readonly byIntercept: Float64Array;
  readonly bySlope: Float64Array;
}

/** A blank's rule as sums of amounts: the derivative of each coefficient by each amount; null for one that the rule does not have. */
export interface BlankWeights {
  readonly b_f: Float64Array | null;
  readonly b_0: Float64Array | null;
}

/** @param amounts one list a blank */
export function calibrationColumns(
  amounts: readonly (readonly AmountByCalibration[])[],
): CalibrationColumns[] {
  const found: CalibrationColumns[] = [];
  for (let i = 0; i < amounts.length; i++) {
    for (const { label, calibration, byIntercept, bySlope } of amounts[i]!) {
      let columns = columnsFor(found, label, calibration.run);
      if (columns === null) {
        const { length } = amounts;
        columns = {
          ...{ label, calibration },
          ...{ byIntercept: new Float64Array(length), bySlope: new Float64Array(length) },
        };
        found.push(columns);
      }
      columns.byIntercept[i] = byIntercept;
      columns.bySlope[i] = bySlope;
    }
  }
  return found;
}

function columnsFor(
  found: readonly CalibrationColumns[],
  label: string,
  run: string,
): CalibrationColumns | null {
  for (const columns of found) if (columns.label === label && columns.calibration.run === run) return columns;
  return null;
}

/** How the coefficients of a blank move with the calibrations of its amounts. */
export function blankByCalibrations(
  columns: readonly CalibrationColumns[],
  { b_f, b_0 }: BlankWeights,
): BlankByCalibration[] {
  const found: BlankByCalibration[] = [];
  for (const each of columns) {
    const effects = {
      ...(b_f === null ? {} : { b_f: effectOn(b_f, each) }),
      ...(b_0 === null ? {} : { b_0: effectOn(b_0, each) }),
    };
    found.push({ label: each.label, calibration: each.calibration, effects });
  }
  return found;
}

function effectOn(weights: Float64Array, { byIntercept, bySlope }: CalibrationColumns): CalibrationEffect {
  return { byIntercept: weighted(weights, byIntercept), bySlope: weighted(weights, bySlope) };
}

function weighted(weights: Float64Array | null, values: Float64Array): number {
  if (weights === null) return 0;
  let sum = 0;
  for (let i = 0; i < weights.length; i++) sum += weights[i]! * values[i]!;
  return sum;
}

/** What the calibrations bring to the sum of squares that the rule leaves of the amounts, in the unit of its scatter, squared. */
export function squaresByCalibrations(
  columns: readonly CalibrationColumns[],
  weights: BlankWeights,
  fluxes: Float64Array,
): number {
  let sum = 0;
  for (const { calibration, byIntercept, bySlope } of columns) {
    const { varianceIntercept, varianceSlope, covariance } = calibration;
    const ofIntercept = leftOf(byIntercept, weights, fluxes);
    const ofSlope = leftOf(bySlope, weights, fluxes);
    for (let i = 0; i < fluxes.length; i++) {
      const [a, b] = [ofIntercept[i]!, ofSlope[i]!];
      sum += a * a * varianceIntercept + 2 * a * b * covariance + b * b * varianceSlope;
    }
  }
  return sum;
}

/** Amounts less what the rule makes of them; by mass of flux where the scatter is. */
function leftOf(amounts: Float64Array, { b_f, b_0 }: BlankWeights, fluxes: Float64Array): Float64Array {
  const [perFlux, perDigestion] = [weighted(b_f, amounts), weighted(b_0, amounts)];
  const left = new Float64Array(amounts.length);
  for (let i = 0; i < amounts.length; i++) {
    left[i] =
      b_0 === null ? amounts[i]! / fluxes[i]! - perFlux : amounts[i]! - perFlux * fluxes[i]! - perDigestion;
  }
  return left;
}

/**
 * What the readings bring to that sum of squares: each amount by its own, less its leverage, which is how far the rule follows it.
 *
 * @param readingsMg standard uncertainties of the amounts by their readings alone
 */
export function squaresByReadings(
  readingsMg: Float64Array,
  { b_f, b_0 }: BlankWeights,
  fluxes: Float64Array,
): number {
  let sum = 0;
  for (let i = 0; i < fluxes.length; i++) {
    const leverage = (b_f === null ? 0 : b_f[i]! * fluxes[i]!) + (b_0 === null ? 0 : b_0[i]!);
    sum += (readingsMg[i]! / (b_0 === null ? fluxes[i]! : 1)) ** 2 * (1 - leverage);
  }
  return sum;
}
