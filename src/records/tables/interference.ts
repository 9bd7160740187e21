/** One spectral interference coefficient: apparent mg/kg of the analyte per mg/kg of the interferent. */
export interface InterferenceRecord {
  readonly analyte: string;
  readonly lineNm: number;
  readonly interferent: string;
  readonly apparentPerUnit: number;
  readonly standardUncertainty: number;
}
