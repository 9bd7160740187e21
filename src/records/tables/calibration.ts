/** One standard solution × analyte of one run. */
export interface CalibrationRecord {
  readonly run: string;
  readonly solution: string;
  readonly analyte: string;
  /** Exactly one of the two contents is given. */
  readonly massFractionMgPerKg: number | null;
  readonly concentrationMgPerL: number | null;
  /** Of this solution's preparation alone (the stock's uncertainty is in `standards`), in the unit of the content. */
  readonly standardUncertainty: number;
  /** Name in `standards`. */
  readonly preparedFrom: string;
}
