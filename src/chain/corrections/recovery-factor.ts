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
