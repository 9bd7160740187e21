/** What is known of an input quantity, as a probability distribution (JCGM 101:2008, 6.4). Parameters in the unit of the quantity. */
export type Distribution =
  | { readonly kind: 'normal' }
  | { readonly kind: 't' }
  | { readonly kind: 'rectangular'; readonly halfWidth: number }
  | { readonly kind: 'triangular'; readonly halfWidth: number }
  | { readonly kind: 'trapezoidal'; readonly halfWidth: number; readonly topHalfWidth: number }
  | {
      readonly kind: 'curvilinear trapezoid';
      readonly halfWidth: number;
      readonly halfWidthUncertainty: number;
    }
  | { readonly kind: 'arcsine'; readonly halfWidth: number }
  | { readonly kind: 'exponential' }
  | { readonly kind: 'lognormal' }
  /** The estimate is proportional to counts + 1. */
  | { readonly kind: 'gamma from counts'; readonly counts: number }
  /** Values of the quantity's own distribution, such as an earlier simulation's; not observations behind a mean. */
  | { readonly kind: 'sample'; readonly values: readonly number[] };

/** Where knowledge of an input comes from. */
export type SourceKind = 'certificate' | 'specification' | 'records' | 'judgement' | 'definition';

/**
 * One input quantity of a measurement model (GUM, JCGM 100:2008, 4.1).
 *
 * `withinPrecision` says whether the observed intermediate precision already holds this quantity's variation:
 * a budget anchored on precision leaves such inputs out so that random parts are counted once.
 */
export interface InputQuantity {
  /** Identifier in the equations: a letter, then letters, digits, underscores. */
  readonly name: string;
  /** The quantity in words. */
  readonly description: string;
  readonly unit: string;
  readonly estimate: number;
  /**
   * In `unit`; 0 for a constant known exactly. For a t distribution it is the scale s/√n of JCGM 100; the standard
   * deviation of the distribution is √(ν/(ν − 2)) times that (JCGM 101:2008, 6.4.9).
   */
  readonly standardUncertainty: number;
  /** `Infinity` where the standard uncertainty is taken as known. */
  readonly degreesOfFreedom: number;
  readonly distribution: Distribution;
  readonly evaluation: 'A' | 'B';
  readonly sourceKind: SourceKind;
  /** The certificate, table rows or reasoning behind it, in words. */
  readonly source: string;
  /** Step of the measurement procedure the budget groups it under, such as "weighing". */
  readonly step: string;
  /** Identifier in the equipment register, where the quantity depends on a piece of equipment. */
  readonly equipment?: string;
  readonly withinPrecision: boolean;
  /** What the variation that precision holds comes anew with; a mean over digestions then averages the former. */
  readonly variesWith?: 'digestion' | 'run';
  /** Name of the joint evaluation (one fit) that several inputs share; they then have one number of degrees of freedom. */
  readonly jointSource?: string;
}

/** Correlation coefficient between two inputs (GUM 5.2). */
export interface Correlation {
  readonly first: string;
  readonly second: string;
  readonly coefficient: number;
}
