import { identifier } from '../model-fragment.js';

/** An error that the results of a recovery experiment hold and that does not come anew with each of them. */
export interface LastingError {
  /** Key of the quantity among all results: see `sharedKey`. */
  readonly key: string;
  readonly estimate: number;
  readonly standardUncertainty: number;
  /** Relative change of R for one standard uncertainty of the quantity. */
  readonly effect: number;
}

/** Recovery R of one analyte as the chain divides by it, from an experiment of the laboratory. */
export interface RecoveryFactor {
  readonly analyte: string;
  /** 1 where the recovery found is not applied. */
  readonly estimate: number;
  /** Scatter of the experiment and uncertainty of the values it was held against. */
  readonly standardUncertainty: number;
  readonly degreesOfFreedom: number;
  readonly source: string;
  /** What the experiment may have in common with the results it corrects. */
  readonly lasting: readonly LastingError[];
  /** Relative standard uncertainty of all further lasting errors together. */
  readonly furtherLasting: number;
  /**
   * The part of R's standard uncertainty that is scatter, as standard uncertainties from independent sources that other analytes of
   * the experiment share; absent: shared with none.
   */
  readonly scatter?: {
    readonly degreesOfFreedom: number;
    readonly shared: readonly { readonly key: string; readonly value: number }[];
  };
}

/** Name of the recovery in the equations. */
export function recoveryName(analyte: string): string {
  return `f_R_${identifier(analyte)}`;
}

/**
 * Name of the input for one lasting error that a result does not hold itself.
 *
 * @param at its place among `lasting`
 * @param isApart the error is the experiment's, whatever results hold under its key
 */
export function recoveryErrorName(analyte: string, at: number, isApart: boolean): string {
  return `d_R_${identifier(analyte)}_${at + 1}${isApart ? '_apart' : ''}`;
}

/** Key, among all results, of an input that bears such a name; null for any other name. */
export function recoveryErrorKey(name: string, { analyte, lasting }: RecoveryFactor): string | null {
  for (const [at, { key }] of lasting.entries()) {
    if (name === recoveryErrorName(analyte, at, false)) return key;
    if (name === recoveryErrorName(analyte, at, true)) return `${key} of recoveries`;
  }
  return null;
}
