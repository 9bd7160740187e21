/** One digestion: one portion weighed, fused, dissolved, weighed back. Masses are balance readings in air. */
export interface DigestionRecord {
  readonly digestion: string;
  /** Order of work within the day, from 1. */
  readonly order: number;
  /** Sample or material; for blanks `procedure blank` or `memory blank`. */
  readonly sample: string;
  readonly kind: 'sample' | 'blank' | 'reference' | 'spike';
  /** ISO date. */
  readonly day: string;
  readonly operator: string;
  readonly place: string;
  readonly crucible: string;
  readonly portionBalance: string;
  readonly vesselBalance: string;
  readonly crucibleG: number;
  /** Equal to `crucibleG` for a blank without portion. */
  readonly crucibleWithPortionG: number;
  readonly fluxG: number;
  readonly crucibleWithMeltG: number | null;
  readonly vesselEmptyG: number;
  readonly vesselWithSolutionAndCrucibleG: number;
  readonly acidG: number | null;
  readonly internalStandardG: number | null;
  readonly densityGPerML: number | null;
  readonly melt: 'clear' | 'not clear';
  readonly solution: 'clear' | 'residue';
  readonly remark: string;
}
