/** One integration of the spectrometer. */
export interface ReadingRecord {
  readonly run: string;
  /** Place in the sequence of the run, from 1; the readings of one solution share it. */
  readonly position: number;
  /** ISO date and time, local, without zone. */
  readonly time: string;
  /** A standard, check solution, digestion or dilution. */
  readonly solution: string;
  readonly analyte: string;
  readonly lineNm: number;
  /** Number of the reading of this solution at this position, from 1. */
  readonly repeat: number;
  /** Counts per second. */
  readonly intensity: number;
  /** Counts per second; null where no internal standard was pumped. */
  readonly internalStandardIntensity: number | null;
}
