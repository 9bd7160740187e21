/** One stock or intermediate standard. */
export interface StandardRecord {
  readonly name: string;
  readonly analyte: string;
  readonly value: number;
  readonly unit: 'mg/kg' | 'mg/L';
  readonly expandedUncertainty: number;
  readonly coverageFactor: number;
  readonly certificate: string;
  /** ISO date. */
  readonly expiry: string;
  /** Name of the stock an intermediate was made from, empty for a stock. */
  readonly preparedFrom: string;
  readonly aliquotG: number | null;
  readonly finalG: number | null;
}
