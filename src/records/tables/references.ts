/** One certified value of a reference material. */
export interface ReferenceRecord {
  readonly material: string;
  readonly analyte: string;
  readonly value: number;
  readonly unit: 'mg/kg' | 'g/100 g';
  readonly expandedUncertainty: number;
  readonly coverageFactor: number;
  readonly certificate: string;
  readonly minimumPortionG: number;
  readonly basis: 'dry' | 'as received' | 'ignited';
  /** ISO date. */
  readonly expiry: string;
}
